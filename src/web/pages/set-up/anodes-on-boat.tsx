import { Link } from 'react-router'
import type { AnodeView } from '../../../contract/anodes.js'
import { sayMass } from '../../wording/amounts.js'
import { sayDay } from '../../wording/days.js'
import { sayAlloy, sayPosition, sayShape } from '../../wording/things.js'
import { useSetUpWords } from './set-up-words.js'

/** What the boat has by now, the newest last: whoever adds one after the other sees what is still missing. */
export function AnodesOnBoat({ boat, anodes }: { boat: string; anodes: readonly AnodeView[] }) {
  const t = useSetUpWords()
  const inPlace = anodes.filter(({ removedOn }) => removedOn === null)
  if (inPlace.length === 0) return null
  return (
    <div className="stack-tight">
      <h3>{t('anodes.onBoat', { count: inPlace.length, boat })}</h3>
      <ul className="set-up-anodes">
        {inPlace.map((anode) => (
          <li key={anode.id}>
            <strong>
              <bdi>{anode.name}</bdi>
            </strong>
            <span className="soft">
              {[
                sayPosition(anode.position),
                sayAlloy(anode.alloy),
                sayShape(anode.shape),
                anode.grossMassG === null ? null : sayMass(anode.grossMassG),
                anode.fittedOn === null ? null : t('anodes.fitted', { day: sayDay(anode.fittedOn) }),
              ]
                .filter((part) => part !== null)
                .join(' · ')}
            </span>
          </li>
        ))}
      </ul>
      <p>
        <Link className="button" to={`/boats/${encodeURIComponent(boat)}`}>
          {t('anodes.toBoat')}
        </Link>
      </p>
    </div>
  )
}
