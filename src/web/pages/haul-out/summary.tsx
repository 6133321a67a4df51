import { useEffect, useRef } from 'react'
import { Link } from 'react-router'
import type { LoggedHaulOut } from '../../../contract/haul-outs.js'
import type { WeighingView } from '../../../contract/weighings.js'
import { useRefit } from '../../api/haul-outs.js'
import { Caution } from '../../shell/caution.js'
import { sayMass, sayPercent } from '../../wording/amounts.js'
import { count, sayDay } from '../../wording/days.js'
import { sayConditions } from '../../wording/words.js'
import { t as sayOfBoat } from '../boat/boat-words.js'
import { cautionsOfConditions } from '../boat/cautions.js'
import type { Logged } from './log-haul-out.js'

/** What was logged, in words to read out on the dock or the phone. */
export function Summary({ logged }: { logged: Logged }) {
  const { haulOut, photosAdded, photosRefused } = logged
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
  const cautions = cautionsOfConditions(haulOut.weighings.flatMap((weighing) => weighing.conditions))
  return (
    <section className="stack" aria-label="Logged">
      <h1 ref={heading} tabIndex={-1}>
        {haulOut.boat}: haul-out logged
      </h1>
      {cautions.map(({ key, grade }) => (
        <Caution key={key} grade={grade}>
          <strong>{sayOfBoat(`caution.${key}.title`)}</strong> {sayOfBoat(`caution.${key}.text`)}
        </Caution>
      ))}
      <div className="panel stack">
        <p>
          Hauled out on <strong>{sayDay(haulOut.hauledOn)}</strong>
          {haulOut.relaunchedOn === null
            ? '; no relaunch logged yet.'
            : `, back in the water on ${sayDay(haulOut.relaunchedOn)}.`}
        </p>
        <ul className="read-out">
          {haulOut.weighings.map((weighing) => (
            <li key={weighing.id}>{sayWeighing(weighing)}</li>
          ))}
          {haulOut.replaced.map(({ anode, by, position }) => (
            <li key={by}>
              {anode} came off; <strong>{by}</strong> is now at {position}.
            </li>
          ))}
        </ul>
        {photosAdded > 0 && <p>{count(photosAdded, 'photo')} added.</p>}
        {photosRefused.map(({ photo, reason }) => (
          <p key={photo.name} className="field-wrong">
            <span>
              Photo {photo.name} was not added: {reason}
            </span>
          </p>
        ))}
        <Refit haulOut={haulOut} />
      </div>
      <p className="chips">
        <Link className="button button-main" to={`/boats/${encodeURIComponent(haulOut.boat)}`}>
          To the boat
        </Link>
        <Link className="button" to="/">
          To the fleet
        </Link>
      </p>
    </section>
  )
}

function sayWeighing(weighing: WeighingView): string {
  const { anode, consumedFraction, conditions } = weighing
  const consumed = consumedFraction === null ? '' : `, ${sayPercent(consumedFraction)} consumed`
  const looks = conditions.length === 0 ? '' : `, ${sayConditions(conditions)}`
  return `${anode}: ${sayAmount(weighing)}${consumed}${looks}.`
}

function sayAmount({ massG, netMassG, method, wastedPercent }: WeighingView): string {
  if (massG !== null) return sayMass(massG)
  if (method === 'visual' && wastedPercent !== null) return `${wastedPercent} % wasted by eye`
  return netMassG === null ? 'measured by calipers' : `${sayMass(netMassG)} of metal by calipers`
}

function Refit({ haulOut }: { haulOut: LoggedHaulOut }) {
  const job = useRefit(haulOut.refit?.id) ?? haulOut.refit
  if (job === null) return <p className="soft">All of this had been logged before; nothing has changed.</p>
  return (
    <p className="soft" role="status">
      {job.state === 'completed' && 'The replacement dates have been worked out anew.'}
      {job.state === 'failed' && 'The replacement dates could not be worked out anew; what you logged is kept.'}
      {(job.state === 'queued' || job.state === 'running') && 'The replacement dates are being worked out anew …'}
    </p>
  )
}
