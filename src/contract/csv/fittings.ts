import { metalCell, nameCell, numberCell, yesNoCell } from './cells.js'
import { csvFile, needed, optional } from './file.js'

export const FITTINGS_CSV = csvFile({
  name: 'fittings.csv',
  key: ['boat', 'fitting'],
  columns: {
    boat: needed(nameCell),
    fitting: needed(nameCell),
    metal: optional(metalCell),
    area_cm2: optional(numberCell({ from: 0 })),
    coated: optional(yesNoCell),
    bonded: optional(yesNoCell),
  },
})
