import type access from '../../messages/en/access.json'
import type boat from '../../messages/en/boat.json'
import type calendar from '../../messages/en/calendar.json'
import type checks from '../../messages/en/checks.json'
import type costs from '../../messages/en/costs.json'
import type desk from '../../messages/en/desk.json'
import type drawing from '../../messages/en/drawing.json'
import type evidence from '../../messages/en/evidence.json'
import type findings from '../../messages/en/findings.json'
import type fleet from '../../messages/en/fleet.json'
import type galvanic from '../../messages/en/galvanic.json'
import type haulOut from '../../messages/en/haul-out.json'
import type letters from '../../messages/en/letters.json'
import type lift from '../../messages/en/lift.json'
import type model from '../../messages/en/model.json'
import type notices from '../../messages/en/notices.json'
import type owner from '../../messages/en/owner.json'
import type people from '../../messages/en/people.json'
import type pontoons from '../../messages/en/pontoons.json'
import type push from '../../messages/en/push.json'
import type reference from '../../messages/en/reference.json'
import type report from '../../messages/en/report.json'
import type setUp from '../../messages/en/set-up.json'
import type settings from '../../messages/en/settings.json'
import type shell from '../../messages/en/shell.json'
import type sizing from '../../messages/en/sizing.json'
import type status from '../../messages/en/status.json'
import type subscriptions from '../../messages/en/subscriptions.json'
import type webhooks from '../../messages/en/webhooks.json'
import type words from '../../messages/en/words.json'

/** Areas with a message file, so that the compiler knows every key. */
declare module 'i18next' {
  interface CustomTypeOptions {
    defaultNS: 'words'
    resources: {
      access: typeof access
      boat: typeof boat
      calendar: typeof calendar
      checks: typeof checks
      costs: typeof costs
      desk: typeof desk
      drawing: typeof drawing
      pontoons: typeof pontoons
      evidence: typeof evidence
      findings: typeof findings
      fleet: typeof fleet
      galvanic: typeof galvanic
      'haul-out': typeof haulOut
      letters: typeof letters
      lift: typeof lift
      model: typeof model
      notices: typeof notices
      owner: typeof owner
      people: typeof people
      push: typeof push
      reference: typeof reference
      report: typeof report
      'set-up': typeof setUp
      settings: typeof settings
      shell: typeof shell
      sizing: typeof sizing
      status: typeof status
      subscriptions: typeof subscriptions
      webhooks: typeof webhooks
      words: typeof words
    }
  }
}
