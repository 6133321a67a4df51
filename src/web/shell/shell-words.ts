import english from '../../messages/en/shell.json' with { type: 'json' }
import { addEnglish, words } from '../i18n/words.js'

addEnglish('shell', english)

/** The words of the frame round every page and of signing in; the frame waits for them. */
export const t = words.getFixedT(null, 'shell')
