import { dayCell, nameCell, numberCell } from './cells.js'
import { csvFile, needed, optional } from './file.js'

export const STAYS_CSV = csvFile({
  name: 'stays.csv',
  key: ['boat', 'from'],
  columns: {
    boat: needed(nameCell),
    from: needed(dayCell),
    to: optional(dayCell),
    berth: optional(nameCell),
    shore_power_hours_per_day: optional(numberCell({ from: 0, to: 24 })),
  },
})
