import english from '../../messages/en/words.json' with { type: 'json' }
import { addEnglish, words } from '../i18n/words.js'

addEnglish('words', english)

/** The words that pages of all kinds share, in the language of the moment. A page waits for its area `words`. */
export const sayWord = words.getFixedT(null, 'words')
