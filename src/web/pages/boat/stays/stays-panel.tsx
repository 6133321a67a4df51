import type { CSSProperties } from 'react'
import { useStays } from '../../../api/readings.js'
import { sayDay } from '../../../wording/days.js'
import { t } from '../boat-words.js'
import { type StaySpan, type StayStrip, stayStrip } from './stay-spans.js'
import './stays.css'

/** Where the boat lay, as a strip over time. */
export function StaysPanel({ boat, asOf }: { boat: string; asOf: string }) {
  const strip = stayStrip(useStays(boat).data ?? [], asOf)
  if (strip === null) return null
  return (
    <section className="panel stack-tight" aria-labelledby="stays">
      <h2 id="stays">{t('lay.title')}</h2>
      <Strip strip={strip} />
      <p className="soft small">{t('lay.key')}</p>
      <details className="fold">
        <summary>{t('lay.table')}</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">{t('lay.from')}</th>
              <th scope="col">{t('lay.to')}</th>
              <th scope="col">{t('fact.berth')}</th>
              <th scope="col">{t('lay.power')}</th>
            </tr>
          </thead>
          <tbody>
            {strip.spans.toReversed().map((span) => (
              <tr key={span.id}>
                <td>{sayDay(span.fromOn)}</td>
                <td>{span.toOn === null ? t('lay.open') : sayDay(span.toOn)}</td>
                <td>{span.berth ?? t('ashore')}</td>
                <td>{sayShorePower(span)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </section>
  )
}

function sayShorePower({ berth, shorePowerHoursPerDay }: StaySpan): string {
  if (berth === null) return '–'
  return shorePowerHoursPerDay === null ? t('lay.notRecorded') : t('lay.hours', { hours: shorePowerHoursPerDay })
}

function Strip({ strip: { spans, today, years } }: { strip: StayStrip }) {
  return (
    <div className="stays" role="img" aria-label={sayStrip(spans)}>
      <div className="stays-bar">
        {spans.map((span) => (
          <span
            key={span.id}
            className={span.berth === null ? 'stay stay-ashore' : 'stay'}
            title={`${span.berth ?? t('ashore')}, ${sayTime(span)}`}
            style={placed(span.start, span.length)}
          >
            <span>{span.berth ?? t('ashore')}</span>
          </span>
        ))}
        <span className="stays-today" style={placed(today, 0)} />
      </div>
      <div className="stays-years">
        {years.map(({ at, label }) => (
          <span key={label} style={placed(at, 0)}>
            {label}
          </span>
        ))}
      </div>
    </div>
  )
}

function placed(start: number, length: number): CSSProperties {
  return { '--start': `${start}%`, '--length': `${length}%` } as CSSProperties
}

function sayTime({ fromOn, toOn }: StaySpan): string {
  return toOn === null
    ? t('lay.since', { day: sayDay(fromOn) })
    : t('lay.time', { from: sayDay(fromOn), to: sayDay(toOn) })
}

/** The last stays in words; all of them stand in the table. */
function sayStrip(spans: readonly StaySpan[]): string {
  const last = spans.slice(-3).map((span) => `${span.berth ?? t('ashore')} ${sayTime(span)}`)
  return t('lay.label', { stays: last.join('; ') })
}
