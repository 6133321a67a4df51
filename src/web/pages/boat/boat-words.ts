import english from '../../../messages/en/boat.json' with { type: 'json' }
import { addEnglish, words } from '../../i18n/words.js'

addEnglish('boat', english)

/** The words of the page of a boat, whose drawings other pages show too; a page waits for its area `boat`. */
export const t = words.getFixedT(null, 'boat')
