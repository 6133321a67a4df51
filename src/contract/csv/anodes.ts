import { ALLOYS } from '../vocabulary.js'
import { dayCell, nameCell, numberCell, textCell, wordCell, yesNoCell } from './cells.js'
import { csvFile, defaulted, needed, optional } from './file.js'

/** Of an anode that nobody said the position of. */
export const UNKNOWN_POSITION = 'other'

export const ANODES_CSV = csvFile({
  name: 'anodes.csv',
  key: ['boat', 'anode'],
  columns: {
    boat: needed(nameCell),
    anode: needed(nameCell),
    position: defaulted(textCell, UNKNOWN_POSITION),
    alloy: optional(wordCell(ALLOYS)),
    shape: optional(textCell),
    fitted_on: optional(dayCell),
    removed_on: optional(dayCell),
    gross_mass_g: optional(numberCell({ above: 0 })),
    core_mass_g: optional(numberCell({ from: 0 })),
    length_mm: optional(numberCell({ above: 0 })),
    width_mm: optional(numberCell({ above: 0 })),
    height_mm: optional(numberCell({ above: 0 })),
    bonded: optional(yesNoCell),
  },
})
