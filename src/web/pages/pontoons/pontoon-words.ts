import english from '../../../messages/en/pontoons.json' with { type: 'json' }
import { addEnglish, words } from '../../i18n/words.js'

addEnglish('pontoons', english)

/** The words of the plan of the pontoons; its page waits for its area `pontoons`. */
export const t = words.getFixedT(null, 'pontoons')
