import de from '../../messages/de/start.json' with { type: 'json' }
import en from '../../messages/en/start.json' with { type: 'json' }
import es from '../../messages/es/start.json' with { type: 'json' }
import fr from '../../messages/fr/start.json' with { type: 'json' }
import { languageOf } from '../../messages/languages.js'
import { wantedTags } from './wanted.js'

const WORDS = { en, de, fr, es }

/**
 * What must be said before any file of words is there, or because none could be fetched: these few sentences come along in
 * all languages.
 */
export function sayAtStart(key: keyof typeof en): string {
  return WORDS[languageOf(wantedTags())][key]
}
