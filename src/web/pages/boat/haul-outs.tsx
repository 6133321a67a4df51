import { useState } from 'react'
import type { BoatView } from '../../../contract/boats.js'
import type { HaulOutView } from '../../../contract/haul-outs.js'
import { useRefit } from '../../api/haul-outs.js'
import { useMe } from '../../api/session.js'
import { sayDay } from '../../wording/days.js'
import { t } from './boat-words.js'
import { PlanLift, TakeOutButton, type TakesOut, useTakeOut } from './plan-lift.js'
import { RelaunchForm } from './relaunch-form.js'
import { reportUrl } from './report-url.js'

interface HaulOutsProps {
  boat: BoatView
  haulOuts: readonly HaulOutView[]
  asOf: string
}

/** So many are read at a glance; the rest waits in a fold. */
const SHOWN_AT_ONCE = 6

/** The haul-outs of a boat, the newest first, each past one with its report; who lifts boats plans one here, or takes it out again. */
export function HaulOuts({ boat, haulOuts, asOf }: HaulOutsProps) {
  const mayPlan = useMe().data?.permissions.includes('lift:write') ?? false
  const planned = useTakeOut(boat.name)
  const [saved, setSaved] = useState<{ refit: string | undefined } | null>(null)
  useRefit(saved?.refit)
  const last = haulOuts.find(({ hauledOn }) => hauledOn <= asOf)
  if (haulOuts.length === 0 && !mayPlan) return null
  const earlier = haulOuts.slice(SHOWN_AT_ONCE)
  const list = { boat: boat.name, asOf, planned: mayPlan ? planned : null }
  return (
    <section className="panel stack-tight" aria-label={t('haulOuts')}>
      <h2>{t('haulOuts')}</h2>
      <HaulOutList {...list} haulOuts={haulOuts.slice(0, SHOWN_AT_ONCE)} />
      {earlier.length > 0 && (
        <details className="fold">
          <summary>{t('earlier', { number: earlier.length })}</summary>
          <HaulOutList {...list} haulOuts={earlier} />
        </details>
      )}
      {planned.failed !== null && (
        <p className="field-wrong" role="alert">
          {planned.failed}
        </p>
      )}
      <p role="status" className="soft small">
        {saved && t('relaunch.saved')}
      </p>
      {mayPlan && last && last.relaunchedOn === null && (
        <RelaunchForm key={last.id} boat={boat} lift={last} asOf={asOf} onSaved={(refit) => setSaved({ refit })} />
      )}
      {mayPlan && <PlanLift boat={boat.name} asOf={asOf} />}
    </section>
  )
}

interface HaulOutListProps extends Omit<HaulOutsProps, 'boat'> {
  boat: string
  /** Null for those who only read. */
  planned: TakesOut | null
}

function HaulOutList({ boat, haulOuts, asOf, planned }: HaulOutListProps) {
  return (
    <ol className="haul-outs">
      {haulOuts.map((haulOut) => (
        <li key={haulOut.id}>
          <span>
            <strong>{sayDay(haulOut.hauledOn)}</strong>{' '}
            <span className="soft">
              {haulOut.hauledOn > asOf ? t('plannedLift') : sayRelaunch(haulOut)}
              {haulOut.note && `, ${haulOut.note}`}
            </span>
          </span>
          {haulOut.hauledOn <= asOf && (
            <a
              href={reportUrl(boat, haulOut.id)}
              target="_blank"
              rel="noreferrer"
              aria-label={t('reportOf', { day: sayDay(haulOut.hauledOn) })}
            >
              {t('reportShort')}
            </a>
          )}
          {planned && haulOut.planned === true && haulOut.hauledOn >= asOf && (
            <TakeOutButton haulOut={haulOut} planned={planned} />
          )}
        </li>
      ))}
    </ol>
  )
}

function sayRelaunch({ relaunchedOn, hauledOn }: HaulOutView): string {
  if (relaunchedOn === null) return t('noRelaunch')
  return relaunchedOn === hauledOn ? t('relaunchedSame') : t('relaunched', { day: sayDay(relaunchedOn) })
}
