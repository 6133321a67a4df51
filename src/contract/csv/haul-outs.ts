import { dayCell, nameCell, yesNoCell } from './cells.js'
import { csvFile, needed, optional } from './file.js'

export const HAUL_OUTS_CSV = csvFile({
  name: 'haul-outs.csv',
  key: ['boat', 'on'],
  columns: {
    boat: needed(nameCell),
    on: needed(dayCell),
    relaunched_on: optional(dayCell),
    planned: optional(yesNoCell),
  },
})
