import { Link, useParams } from 'react-router'
import type { LetterLinkView } from '../../../contract/notices.js'
import { useAnswerLetter, useLetter } from '../../api/notices.js'
import { Waiting } from '../../shell/waiting.js'
import { addDays, sayDay } from '../../wording/days.js'
import { useNoticeWords } from '../notices/notice-words.js'
import { DonePanel } from './done-panel.js'
import './letters.css'

/** Behind the links of a letter: later, done already, no more. It needs no signing in, and nothing happens before a button is pressed. */
export default function LetterPage() {
  const t = useNoticeWords()
  const { token = '' } = useParams()
  const letter = useLetter(token)
  if (letter.isPending) return <Waiting />
  if (letter.isError)
    return (
      <div className="page page-narrow">
        <p className="panel" role="alert">
          {t('letter.dead')}
        </p>
      </div>
    )
  const { boat, organisation: yard, email } = letter.data
  const title = boat === null ? t('letter.titleAll', { yard }) : t('letter.title', { boat })
  return (
    <div className="page page-narrow">
      <title>{`${title} · Anode Ledger`}</title>
      <div>
        <h1>
          <bdi>{title}</bdi>
        </h1>
        <p className="soft letter-for">{t('letter.for', { email, yard })}</p>
      </div>
      {boat !== null && (
        <p>
          <Link className="button button-main" to={`/boats/${encodeURIComponent(boat)}`}>
            {t('letter.boat', { boat })}
          </Link>
        </p>
      )}
      <Choices token={token} letter={letter.data} />
    </div>
  )
}

const LATER = [
  ['weeks2', 14],
  ['month', 30],
  ['quarter', 91],
] as const

/** How early a first letter may come [d]. */
const LEADS = [30, 60, 90, 120]

function Choices({ token, letter }: { token: string; letter: LetterLinkView }) {
  const t = useNoticeWords()
  const answer = useAnswerLetter(token)
  const { boat, isStopped, snoozedUntil } = letter
  const today = new Date().toISOString().slice(0, 10)
  if (isStopped)
    return (
      <section className="panel stack">
        <p role="status">{t('letter.stopped')}</p>
        <p>
          <button
            type="button"
            className="button"
            disabled={answer.isPending}
            onClick={() => answer.mutate({ action: 'resume' })}
          >
            {t('letter.resume')}
          </button>
        </p>
        <Failed message={answer.error?.message} />
      </section>
    )
  return (
    <>
      {boat !== null && (
        <section className="panel stack">
          <div>
            <h2>{t('letter.later')}</h2>
            <p className="soft">
              {snoozedUntil !== null && snoozedUntil > today
                ? t('letter.snoozed', { boat, day: sayDay(snoozedUntil) })
                : t('letter.laterHint', { boat })}
            </p>
          </div>
          <p className="chips">
            {LATER.map(([key, days]) => (
              <button
                key={key}
                type="button"
                className="button"
                disabled={answer.isPending}
                onClick={() => answer.mutate({ action: 'snooze', until: addDays(today, days) })}
              >
                {t(`letter.${key}`)}
              </button>
            ))}
          </p>
        </section>
      )}
      {boat !== null && (
        <section className="panel stack">
          <label className="field">
            <span>{t('letter.lead')}</span>
            <select
              value={letter.leadDays}
              disabled={answer.isPending}
              onChange={({ target }) => answer.mutate({ action: 'lead', leadDays: Number(target.value) })}
            >
              {[...new Set([...LEADS, letter.leadDays])]
                .toSorted((a, b) => a - b)
                .map((days) => (
                  <option key={days} value={days}>
                    {t('letter.leadDays', { count: days })}
                  </option>
                ))}
            </select>
          </label>
        </section>
      )}
      {boat !== null && <DonePanel token={token} anodes={letter.anodes} today={today} />}
      <section className="panel stack">
        <p>
          <button
            type="button"
            className="button"
            disabled={answer.isPending}
            onClick={() => answer.mutate({ action: 'stop' })}
          >
            {boat === null ? t('letter.stopAll') : t('letter.stop', { boat })}
          </button>
        </p>
        <Failed message={answer.error?.message} />
      </section>
    </>
  )
}

function Failed({ message }: { message: string | undefined }) {
  if (message === undefined) return null
  return (
    <p className="field-wrong" role="alert">
      {message}
    </p>
  )
}
