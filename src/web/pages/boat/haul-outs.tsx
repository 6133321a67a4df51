import type { HaulOutView } from '../../../contract/haul-outs.js'
import { sayDay } from '../../wording/days.js'
import { t } from './boat-words.js'
import { reportUrl } from './report-url.js'

interface HaulOutsProps {
  boat: string
  haulOuts: readonly HaulOutView[]
  asOf: string
}

/** So many are read at a glance; the rest waits in a fold. */
const SHOWN_AT_ONCE = 6

/** The haul-outs of a boat, the newest first, each past one with its report. */
export function HaulOuts({ boat, haulOuts, asOf }: HaulOutsProps) {
  if (haulOuts.length === 0) return null
  const earlier = haulOuts.slice(SHOWN_AT_ONCE)
  return (
    <section className="panel stack-tight" aria-label={t('haulOuts')}>
      <h2>{t('haulOuts')}</h2>
      <HaulOutList boat={boat} haulOuts={haulOuts.slice(0, SHOWN_AT_ONCE)} asOf={asOf} />
      {earlier.length > 0 && (
        <details className="fold">
          <summary>{t('earlier', { number: earlier.length })}</summary>
          <HaulOutList boat={boat} haulOuts={earlier} asOf={asOf} />
        </details>
      )}
    </section>
  )
}

function HaulOutList({ boat, haulOuts, asOf }: HaulOutsProps) {
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
        </li>
      ))}
    </ol>
  )
}

function sayRelaunch({ relaunchedOn, hauledOn }: HaulOutView): string {
  if (relaunchedOn === null) return t('noRelaunch')
  return relaunchedOn === hauledOn ? t('relaunchedSame') : t('relaunched', { day: sayDay(relaunchedOn) })
}
