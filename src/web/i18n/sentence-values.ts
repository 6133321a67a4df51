import { SENTENCE_FORMATS } from '../../presentation/sentence-formats.js'
import { currentLocale } from '../wording/locale.js'
import { words } from './words.js'

// Not with the words themselves: the first page at the lift has no such sentences.
for (const [name, format] of Object.entries(SENTENCE_FORMATS)) {
  words.services.formatter?.add(name, (value) => format(value, { locale: currentLocale(), word: wordOf }))
}

/** What a key of a sentence is called; the page waits for the area. */
function wordOf(area: string, key: string): string {
  return words.getFixedT(null, area as 'words')(key as 'beyond')
}
