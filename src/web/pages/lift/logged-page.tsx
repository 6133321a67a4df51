import { useEffect, useRef } from 'react'
import { Link, useParams } from 'react-router'
import type { OutboxEntry } from '../../offline/outbox-entry.js'
import { useOutbox } from '../../offline/use-outbox.js'
import { LiftCautions } from './lift-cautions.js'
import { LiftBar } from './lift-frame.js'
import { isolated, useLiftWords } from './lift-words.js'

/** What was logged, to read out, and how far it has come. */
export default function LoggedPage() {
  const { boat = '', entry: id } = useParams()
  const t = useLiftWords()
  const { entries, isRead } = useOutbox()
  const entry = entries.find((each) => each.id === Number(id))
  const place = useRef<HTMLElement>(null)
  useEffect(() => place.current?.focus(), [])
  return (
    <>
      <LiftBar title={t('logged.title', { boat: isolated(entry?.boat.name ?? boat) })} back="/lift" />
      <main id="main" tabIndex={-1} className="lift-page stack" ref={place}>
        {entry && <Logged entry={entry} />}
        {!entry && <p>{isRead ? t('logged.gone') : t('frame.waiting')}</p>}
      </main>
      <footer className="lift-foot">
        <Link className="button" to="/lift/outbox">
          {t('logged.outbox')}
        </Link>
        <Link className="button button-main" to="/lift">
          {t('logged.next')}
        </Link>
      </footer>
    </>
  )
}

function Logged({ entry }: { entry: OutboxEntry }) {
  const t = useLiftWords()
  const others = entry.logged?.others ?? []
  return (
    <>
      <p className="lift-state" role="status" data-state={entry.state}>
        {t(`logged.${entry.state}`)}
      </p>
      {others.length > 0 && (
        <p className="lift-notice">
          {t('logged.joined', { count: others.length, names: others.map(isolated).join(', ') })}
        </p>
      )}
      <LiftCautions keys={entry.cautions} />
      <h2>{t('logged.readOut')}</h2>
      <ul className="read-out">
        {entry.readOut.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <p className="soft small">{t('summary.caution')}</p>
    </>
  )
}
