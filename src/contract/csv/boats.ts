import { HULLS, YES_NO_UNKNOWN } from '../vocabulary.js'
import { emailCell, nameCell, numberCell, textCell, wordCell } from './cells.js'
import { csvFile, needed, optional } from './file.js'

export const BOATS_CSV = csvFile({
  name: 'boats.csv',
  key: ['boat'],
  columns: {
    boat: needed(nameCell),
    owner_name: optional(textCell),
    owner_email: optional(emailCell),
    hull: optional(wordCell(HULLS)),
    galvanic_isolator: optional(wordCell(YES_NO_UNKNOWN)),
    launched_year: optional(numberCell({ from: 1800, to: 2200, whole: true })),
  },
})
