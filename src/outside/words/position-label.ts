import { POSITION_KINDS } from '../../contract/vocabulary.js'
import type { Language } from '../../messages/languages.js'
import { spokenIn } from './spoken.js'

/**
 * Where an anode sits, in a language: its label begins with a kind of position, and what follows is the yard's own.
 *
 * @example positionLabels('de')('shaft 1') // 'Welle 1'
 */
export function positionLabels(language: Language): (label: string) => string {
  const t = spokenIn(language, 'calendar')
  return (label) => {
    const kind = POSITION_KINDS.find((each) => label.toLowerCase().startsWith(each))
    return kind === undefined ? label : `${t(`position.${kind}`, { ns: 'words' })}${label.slice(kind.length)}`
  }
}
