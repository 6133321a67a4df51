import { instantCell, nameCell, numberCell } from './cells.js'
import { csvFile, needed } from './file.js'

export const CONTINUITY_CSV = csvFile({
  name: 'continuity.csv',
  key: ['boat', 'measured_at', 'from', 'to'],
  columns: {
    boat: needed(nameCell),
    measured_at: needed(instantCell),
    from: needed(nameCell),
    to: needed(nameCell),
    ohms: needed(numberCell({ from: 0 })),
  },
})
