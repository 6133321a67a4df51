import { CIRCUIT_STATES, REFERENCE_ELECTRODES, SHORE_POWER_STATES } from '../vocabulary.js'
import { instantCell, nameCell, numberCell, wordCell } from './cells.js'
import { csvFile, needed, optional } from './file.js'

export const POTENTIALS_CSV = csvFile({
  name: 'potentials.csv',
  key: ['boat', 'measured_at', 'fitting'],
  columns: {
    boat: needed(nameCell),
    measured_at: needed(instantCell),
    fitting: optional(nameCell),
    reference: optional(wordCell(REFERENCE_ELECTRODES)),
    // Beyond what any metal in water reads against these electrodes: magnesium against copper sulfate is near -1.7 V.
    volts: needed(numberCell({ from: -3, to: 3 })),
    shore_power: optional(wordCell(SHORE_POWER_STATES)),
    circuits: optional(wordCell(CIRCUIT_STATES)),
  },
})
