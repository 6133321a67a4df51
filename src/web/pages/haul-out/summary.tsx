import { useEffect, useRef } from 'react'
import { Trans } from 'react-i18next'
import { Link } from 'react-router'
import type { LoggedHaulOut } from '../../../contract/haul-outs.js'
import type { WeighingView } from '../../../contract/weighings.js'
import { useRefit } from '../../api/haul-outs.js'
import { Caution } from '../../shell/caution.js'
import { sayMass, sayPercent } from '../../wording/amounts.js'
import { sayDay } from '../../wording/days.js'
import { sayConditions, sayPosition } from '../../wording/things.js'
import { t as sayOfBoat } from '../boat/boat-words.js'
import { cautionsOfConditions } from '../boat/cautions.js'
import { t } from './haul-out-words.js'
import type { Logged } from './log-haul-out.js'

/** What was logged, in words to read out on the dock or the phone. */
export function Summary({ logged }: { logged: Logged }) {
  const { haulOut, photosAdded, photosRefused } = logged
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
  const cautions = cautionsOfConditions(haulOut.weighings.flatMap((weighing) => weighing.conditions))
  return (
    <section className="stack" aria-label={t('done.section')}>
      <h1 ref={heading} tabIndex={-1}>
        {t('done.heading', { boat: haulOut.boat })}
      </h1>
      {cautions.map(({ key, grade }) => (
        <Caution key={key} grade={grade}>
          <strong>{sayOfBoat(`caution.${key}.title`)}</strong> {sayOfBoat(`caution.${key}.text`)}
        </Caution>
      ))}
      <div className="panel stack">
        <p>
          <Trans
            t={t}
            i18nKey={haulOut.relaunchedOn === null ? 'done.noRelaunch' : 'done.relaunch'}
            values={{
              day: sayDay(haulOut.hauledOn),
              back: haulOut.relaunchedOn === null ? '' : sayDay(haulOut.relaunchedOn),
            }}
            components={{ 1: <strong /> }}
          />
        </p>
        <ul className="read-out">
          {haulOut.weighings.map((weighing) => (
            <li key={weighing.id}>{sayWeighing(weighing)}</li>
          ))}
          {haulOut.replaced.map(({ anode, by, position }) => (
            <li key={by}>
              <Trans
                t={t}
                i18nKey="done.replaced"
                values={{ anode, by, position: sayPosition(position) }}
                components={{ 1: <strong /> }}
              />
            </li>
          ))}
        </ul>
        {photosAdded > 0 && <p>{t('photo.added', { count: photosAdded })}</p>}
        {photosRefused.map(({ photo, reason }) => (
          <p key={photo.name} className="field-wrong">
            <span>{t('photo.refused', { photo: photo.name, reason })}</span>
          </p>
        ))}
        <Refit haulOut={haulOut} />
      </div>
      <p className="chips">
        <Link className="button button-main" to={`/boats/${encodeURIComponent(haulOut.boat)}`}>
          {t('done.toBoat')}
        </Link>
        <Link className="button" to="/">
          {t('done.toFleet')}
        </Link>
      </p>
    </section>
  )
}

function sayWeighing(weighing: WeighingView): string {
  const { anode, consumedFraction, conditions } = weighing
  const consumed = consumedFraction === null ? '' : `, ${t('done.consumed', { percent: sayPercent(consumedFraction) })}`
  const looks = conditions.length === 0 ? '' : `, ${sayConditions(conditions)}`
  return `${anode}: ${sayAmount(weighing)}${consumed}${looks}.`
}

function sayAmount({ massG, netMassG, method, wastedPercent }: WeighingView): string {
  if (massG !== null) return sayMass(massG)
  if (method === 'visual' && wastedPercent !== null) return t('done.wasted', { percent: wastedPercent })
  return netMassG === null ? t('done.measured') : t('done.metal', { mass: sayMass(netMassG) })
}

function Refit({ haulOut }: { haulOut: LoggedHaulOut }) {
  const job = useRefit(haulOut.refit?.id) ?? haulOut.refit
  if (job === null) return <p className="soft">{t('done.before')}</p>
  return (
    <p className="soft" role="status">
      {job.state === 'completed' && t('done.refitted')}
      {job.state === 'failed' && t('done.refitFailed')}
      {(job.state === 'queued' || job.state === 'running') && t('done.refitting')}
    </p>
  )
}
