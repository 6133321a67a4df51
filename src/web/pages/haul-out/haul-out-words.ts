import english from '../../../messages/en/haul-out.json' with { type: 'json' }
import { addEnglish, words } from '../../i18n/words.js'

addEnglish('haul-out', english)

/** The words of logging a haul-out at the desk; its page waits for its area `haul-out`. */
export const t = words.getFixedT(null, 'haul-out')
