import type boat from '../../messages/en/boat.json'
import type calendar from '../../messages/en/calendar.json'
import type checks from '../../messages/en/checks.json'
import type desk from '../../messages/en/desk.json'
import type findings from '../../messages/en/findings.json'
import type fleet from '../../messages/en/fleet.json'
import type haulOut from '../../messages/en/haul-out.json'
import type letters from '../../messages/en/letters.json'
import type lift from '../../messages/en/lift.json'
import type notices from '../../messages/en/notices.json'
import type owner from '../../messages/en/owner.json'
import type people from '../../messages/en/people.json'
import type pontoons from '../../messages/en/pontoons.json'
import type push from '../../messages/en/push.json'
import type setUp from '../../messages/en/set-up.json'
import type settings from '../../messages/en/settings.json'
import type shell from '../../messages/en/shell.json'
import type subscriptions from '../../messages/en/subscriptions.json'
import type webhooks from '../../messages/en/webhooks.json'
import type words from '../../messages/en/words.json'

/** Areas with a message file, so that the compiler knows every key. */
declare module 'i18next' {
  interface CustomTypeOptions {
    defaultNS: 'words'
    resources: {
      boat: typeof boat
      calendar: typeof calendar
      checks: typeof checks
      desk: typeof desk
      pontoons: typeof pontoons
      findings: typeof findings
      fleet: typeof fleet
      'haul-out': typeof haulOut
      letters: typeof letters
      lift: typeof lift
      notices: typeof notices
      owner: typeof owner
      people: typeof people
      push: typeof push
      'set-up': typeof setUp
      settings: typeof settings
      shell: typeof shell
      subscriptions: typeof subscriptions
      webhooks: typeof webhooks
      words: typeof words
    }
  }
}
