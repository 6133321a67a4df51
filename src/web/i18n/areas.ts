import type lift from '../../messages/en/lift.json'
import type owner from '../../messages/en/owner.json'
import type words from '../../messages/en/words.json'

/** Areas with a message file, so that the compiler knows every key. */
declare module 'i18next' {
  interface CustomTypeOptions {
    defaultNS: 'words'
    resources: {
      lift: typeof lift
      owner: typeof owner
      words: typeof words
    }
  }
}
