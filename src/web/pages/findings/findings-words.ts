import english from '../../../messages/en/findings.json' with { type: 'json' }
import { addEnglish, words } from '../../i18n/words.js'

addEnglish('findings', english)

/** The words of findings, which the fleet and the boat show too; a page waits for its area `findings`. */
export const t = words.getFixedT(null, 'findings')
