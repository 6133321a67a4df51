import type { FindingDetail } from '../../api/findings.js'
import { sayDay } from '../../wording/days.js'
import { sayCause } from '../../wording/finding-words.js'
import { sayCheck, sayOutcome } from './check-words.js'
import { t } from './findings-words.js'

type Event = FindingDetail['events'][number]

/** What happened to a finding, the latest first. */
export function FindingHistory({ events }: Pick<FindingDetail, 'events'>) {
  return (
    <section className="panel stack history" aria-labelledby="finding-history">
      <h2 id="finding-history">{t('history.title')}</h2>
      <ol className="finding-events">
        {events.toReversed().map((event) => (
          <li key={`${event.at} ${event.kind}`}>
            <p>
              <strong>{t(`event.${event.kind}`)}</strong>{' '}
              <span className="soft">
                {sayDay(event.at.slice(0, 10))}
                {sayWho(event.by)}
              </span>
            </p>
            <Details event={event} />
          </li>
        ))}
      </ol>
    </section>
  )
}

function Details({ event: { note, check, resolution } }: { event: Event }) {
  return (
    <>
      {check && (
        <p>
          {sayCheck(check)}: {sayOutcome(check.check, check)}
          {check.confirmedCause && <> {t('confirmedAs', { cause: sayCause(check.confirmedCause) })}.</>}
        </p>
      )}
      {resolution && (
        <p>
          {sayCause(resolution.cause)}. {resolution.text}
        </p>
      )}
      {note !== null && <p className="finding-note">{note}</p>}
    </>
  )
}

/** @example sayWho('person:ada@example.org') // ', by ada@example.org' */
export function sayWho(by: string | null): string {
  if (by === null) return ''
  if (by === 'refit') return `, ${t('history.refit')}`
  const [kind, name] = [by.slice(0, by.indexOf(':')), by.slice(by.indexOf(':') + 1)]
  return kind === 'person' ? `, ${t('history.person', { name })}` : `, ${t('history.program', { name })}`
}
