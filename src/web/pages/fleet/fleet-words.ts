import english from '../../../messages/en/fleet.json' with { type: 'json' }
import { addEnglish, words } from '../../i18n/words.js'

addEnglish('fleet', english)

/** The words of the fleet's list, whose dates and risks other pages show too; a page waits for its area `fleet`. */
export const t = words.getFixedT(null, 'fleet')
