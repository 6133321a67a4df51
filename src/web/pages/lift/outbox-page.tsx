import { useEffect, useState } from 'react'
import { useNavigate } from 'react-router'
import { newKey } from '../../api/request-key.js'
import { changeEntry, photosBackToDraft, takeOut } from '../../offline/outbox.js'
import { isBy, type OutboxEntry, waitsForEarlier } from '../../offline/outbox-entry.js'
import { sendOutbox } from '../../offline/send-outbox.js'
import { useWho } from '../../offline/use-held.js'
import { useOutbox } from '../../offline/use-outbox.js'
import { keepDraft, loadDraft } from '../haul-out/draft.js'
import { ConflictPanel } from './conflict-panel.js'
import { LiftBar } from './lift-frame.js'
import { liftPath } from './lift-paths.js'
import { isolated, sayTime, useLiftWords } from './lift-words.js'

/** What waits, what was sent, what was not taken and why. */
export default function OutboxPage() {
  const t = useLiftWords()
  const { entries, hindrance, isRead } = useOutbox()
  useEffect(() => void sendOutbox(), [])
  const open = entries.filter(({ state }) => state !== 'sent')
  const sent = entries.filter(({ state }) => state === 'sent').toReversed()
  const hasWaiting = entries.some(({ state }) => state === 'queued' || state === 'sending')
  return (
    <>
      <LiftBar title={t('outbox.title')} back="/lift" />
      <main id="main" tabIndex={-1} className="lift-page stack">
        {hasWaiting && (
          <div className="outbox-head" role="status">
            {hindrance !== null && <p>{t(`outbox.hindrance.${hindrance}`)}</p>}
            <button type="button" className="button" onClick={() => void sendOutbox()}>
              {t('outbox.sendNow')}
            </button>
          </div>
        )}
        {isRead && entries.length === 0 && <p>{t('outbox.empty')}</p>}
        {isRead && entries.length > 0 && open.length === 0 && <p>{t('outbox.allSent')}</p>}
        <ol className="outbox">
          {[...open, ...sent].map((entry) => (
            <EntryItem key={entry.id} entry={entry} entries={entries} />
          ))}
        </ol>
      </main>
    </>
  )
}

function EntryItem({ entry, entries }: { entry: OutboxEntry; entries: readonly OutboxEntry[] }) {
  const t = useLiftWords()
  const { state, boat, anodes, photos, queuedAt, sentAt } = entry
  const left = photos.filter((photo) => photo.state === 'queued').length
  return (
    <li className="outbox-entry panel" data-state={state}>
      <header>
        <h2>
          <bdi>{boat.name}</bdi>
        </h2>
        <span className="lift-state" data-state={state}>
          {t(`outbox.state.${state}`)}
        </span>
      </header>
      <p className="soft small">
        {[
          t('outbox.loggedAt', { at: sayTime(queuedAt) }),
          t('outbox.anodes', { count: anodes.length }),
          sentAt !== null && t('outbox.sentAt', { at: sayTime(sentAt) }),
          left > 0 && t('outbox.photosLeft', { count: left }),
        ]
          .filter(Boolean)
          .join(' · ')}
      </p>
      <Waits entry={entry} entries={entries} />
      {photos
        .filter((photo) => photo.state === 'refused')
        .map((photo) => (
          <p key={photo.id} className="field-wrong">
            <span>{t('outbox.photoRefused', { anode: photo.anode, why: photo.why ?? t('outbox.photoLost') })}</span>
          </p>
        ))}
      {entry.logged !== null && entry.logged.others.length > 0 && (
        <p>
          {t('logged.joined', {
            count: entry.logged.others.length,
            names: entry.logged.others.map(isolated).join(', '),
          })}
        </p>
      )}
      {state === 'refused' && <Refused entry={entry} />}
    </li>
  )
}

function Waits({ entry, entries }: { entry: OutboxEntry; entries: readonly OutboxEntry[] }) {
  const t = useLiftWords()
  const who = useWho().held?.value
  if (entry.state !== 'queued') return null
  const isOther = who !== undefined && !isBy(entry, { organisationId: who.organisation.id, actor: who.actor })
  if (isOther) return <p>{t('outbox.otherPerson', { person: entry.author.actor.replace(/^\w+:/, '') })}</p>
  return waitsForEarlier(entry, entries) ? <p>{t('outbox.earlier')}</p> : null
}

function Refused({ entry }: { entry: OutboxEntry }) {
  const t = useLiftWords()
  const navigate = useNavigate()
  const { refusal, boat, id } = entry
  const [hasNoRoom, setHasNoRoom] = useState(false)
  if (refusal === null) return null
  const again = async () => {
    await changeEntry({ ...entry, key: newKey(), state: 'queued', refusal: null })
    await sendOutbox()
  }
  const mend = async () => {
    // What is being entered for the same boat stays, where the entry says nothing of it.
    const anodes = { ...loadDraft(localStorage, boat.name)?.anodes, ...entry.draft.anodes }
    if (!keepDraft(localStorage, boat.name, { ...entry.draft, anodes, mends: id })) return setHasNoRoom(true)
    await photosBackToDraft(id, boat.name)
    await navigate(liftPath(boat))
  }
  return (
    <div className="stack-tight">
      <p>
        <strong>{t(`outbox.kind.${refusal.kind}`)}</strong>
      </p>
      {refusal.kind === 'boat-gone' ? (
        <ul className="outbox-lines">
          {entry.readOut.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      ) : (
        <ul className="outbox-lines">
          {(refusal.fields.length > 0 ? refusal.fields.map(({ detail }) => detail) : [refusal.detail]).map((detail) => (
            <li key={detail}>{detail}</li>
          ))}
        </ul>
      )}
      {hasNoRoom && (
        <p className="field-wrong" role="alert">
          <span>{t('outbox.noRoom')}</span>
        </p>
      )}
      {refusal.kind === 'conflict' && <ConflictPanel entry={entry} />}
      <div className="chips">
        {refusal.kind === 'mend' && (
          <button type="button" className="button button-main" onClick={() => void mend()}>
            {t('outbox.mend')}
          </button>
        )}
        {refusal.kind !== 'mend' && (
          <button type="button" className="button" onClick={() => void again()}>
            {t('outbox.retry')}
          </button>
        )}
        <Discard id={id} />
      </div>
    </div>
  )
}

/** Two taps, for what is discarded is gone. */
function Discard({ id }: { id: number }) {
  const t = useLiftWords()
  const [isAsking, setIsAsking] = useState(false)
  if (!isAsking) {
    return (
      <button type="button" className="button button-plain" onClick={() => setIsAsking(true)}>
        {t('outbox.discard')}
      </button>
    )
  }
  return (
    <>
      <button type="button" className="button" onClick={() => setIsAsking(false)}>
        {t('outbox.keep')}
      </button>
      <button type="button" className="button button-stop" onClick={() => void takeOut(id)}>
        {t('outbox.discardSure')}
      </button>
    </>
  )
}
