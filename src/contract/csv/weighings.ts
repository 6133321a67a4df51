import { CONDITIONS, SUBMERGED_IN, WEIGHING_METHODS } from '../vocabulary.js'
import { codesCell, dayCell, nameCell, numberCell, wordCell, yesNoCell } from './cells.js'
import { csvFile, defaulted, needed, optional } from './file.js'

export const WEIGHINGS_CSV = csvFile({
  name: 'weighings.csv',
  key: ['boat', 'anode', 'weighed_on'],
  columns: {
    boat: needed(nameCell),
    anode: needed(nameCell),
    weighed_on: needed(dayCell),
    method: defaulted(wordCell(WEIGHING_METHODS), 'scale'),
    mass_g: optional(numberCell({ above: 0 })),
    resolution_g: optional(numberCell({ above: 0 })),
    cleaned: optional(yesNoCell),
    submerged_mass_g: optional(numberCell({ from: 0 })),
    submerged_in: optional(wordCell(SUBMERGED_IN)),
    wasted_percent: optional(numberCell({ from: 0, to: 100 })),
    length_mm: optional(numberCell({ above: 0 })),
    width_mm: optional(numberCell({ above: 0 })),
    height_mm: optional(numberCell({ above: 0 })),
    condition: defaulted(codesCell(CONDITIONS), []),
  },
})
