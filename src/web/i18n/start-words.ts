import english from '../../messages/en/start.json' with { type: 'json' }
import { languageOf } from '../../messages/languages.js'
import { wantedTags } from './wanted.js'

const FILES = import.meta.glob<typeof english>('../../messages/{de,fr,es}/start.json', { import: 'default' })

let said = english
let language = 'en'
follow()

/**
 * What must be said before the words of any page are there, or because none could be fetched. A few sentences that come
 * right at the start; in another language a moment later, and until then in English.
 */
export function sayAtStart(key: keyof typeof english): string {
  follow()
  return said[key]
}

function follow(): void {
  const wanted = languageOf(wantedTags())
  if (wanted === language) return
  language = wanted
  if (wanted === 'en') said = english
  // Without the file it stays as it was: better than nothing.
  else
    void FILES[`../../messages/${wanted}/start.json`]?.().then(
      (own) => {
        said = own
      },
      () => undefined,
    )
}
