import { WATERS } from '../vocabulary.js'
import { nameCell, numberCell, textCell, wordCell, yesNoCell } from './cells.js'
import { csvFile, needed, optional } from './file.js'

export const BERTHS_CSV = csvFile({
  name: 'berths.csv',
  key: ['berth'],
  columns: {
    berth: needed(nameCell),
    pontoon: optional(textCell),
    water: optional(wordCell(WATERS)),
    // PSS-78 is defined up to 42 (UNESCO Technical Papers in Marine Science 44).
    salinity_psu: optional(numberCell({ from: 0, to: 42 })),
    latitude: optional(numberCell({ from: -90, to: 90 })),
    longitude: optional(numberCell({ from: -180, to: 180 })),
    shore_power: optional(yesNoCell),
  },
})
