import { useId, useState } from 'react'
import { NOTICE_STATES, type NoticeItem, type NoticeState } from '../../../contract/notices.js'
import { useNotices, useRetryNotice } from '../../api/notices.js'
import { Trouble } from '../../shell/waiting.js'
import { sayInstant } from '../../wording/days.js'
import { sayWhy, useNoticeWords } from './notice-words.js'

const SIGNS: Readonly<Record<NoticeState, string>> = {
  waiting: '…',
  sent: '✓',
  refused: '✕',
  failed: '!',
  dropped: '–',
}
/** Of a letter about many boats. */
const MOST_REASONS = 6

/** Every letter: to whom, why, and what became of it. */
export function NoticeLog({ mayRetry }: { mayRetry: boolean }) {
  const t = useNoticeWords()
  const filter = useId()
  const [state, setState] = useState<NoticeState | null>(null)
  const notices = useNotices(state)
  const retry = useRetryNotice()
  const rows = notices.data?.pages.flatMap(({ items }) => items)
  const wanted = (value: string) => NOTICE_STATES.find((each) => each === value) ?? null
  return (
    <section className="panel stack">
      <div className="notice-switch">
        <h2>{t('log.heading')}</h2>
        <label className="field" htmlFor={filter}>
          <span>{t('log.show')}</span>
          <select id={filter} value={state ?? ''} onChange={({ target }) => setState(wanted(target.value))}>
            <option value="">{t('log.all')}</option>
            {NOTICE_STATES.map((each) => (
              <option key={each} value={each}>
                {each === 'sent' ? t('log.sent', { at: '' }) : t(`log.${each}`)}
              </option>
            ))}
          </select>
        </label>
      </div>
      {notices.isError && <Trouble error={notices.error} retry={notices.refetch} />}
      {notices.isPending && (
        <p className="waiting" role="status">
          {t('loading')}
        </p>
      )}
      {rows?.length === 0 && <p className="soft">{t('log.none')}</p>}
      <ul className="notice-list">
        {rows?.map((notice) => (
          <Row
            key={notice.id}
            notice={notice}
            isBusy={retry.isPending}
            onRetry={mayRetry ? () => retry.mutate(notice.id) : undefined}
          />
        ))}
      </ul>
      {retry.isError && (
        <p className="field-wrong" role="alert">
          {retry.error.message}
        </p>
      )}
      {notices.hasNextPage && (
        <p className="chips">
          <button
            type="button"
            className="button"
            disabled={notices.isFetchingNextPage}
            onClick={() => notices.fetchNextPage()}
          >
            {t('log.more')}
          </button>
        </p>
      )}
    </section>
  )
}

function Row({ notice, isBusy, onRetry }: { notice: NoticeItem; isBusy: boolean; onRetry: (() => void) | undefined }) {
  const t = useNoticeWords()
  const { kind, boat, to, why, state, failure } = notice
  const boats = new Set(why.map((each) => each.boat)).size
  const about = kind === 'boat' ? boat : kind === 'summary' ? t('preview.many', { count: boats }) : t(`log.${kind}`)
  return (
    <li className="notice-row">
      <span className={state === 'refused' || state === 'failed' ? 'tag tag-fast' : 'tag'}>
        {SIGNS[state]} {sayState(notice, t)}
      </span>
      <span>
        <strong>
          <bdi>{about}</bdi>
        </strong>
        <br />
        <span className="soft notice-address">{to}</span>
      </span>
      <div className="stack-tight">
        <ul className="notice-why">
          {why.slice(0, MOST_REASONS).map((each) => (
            <li key={`${each.boat} ${each.anode ?? each.finding}`}>
              {kind === 'summary' && `${each.boat}: `}
              {sayWhy(each, t)}
            </li>
          ))}
          {why.length > MOST_REASONS && <li>…</li>}
        </ul>
        {failure !== null && <p className="soft notice-address">{failure}</p>}
        {onRetry && (state === 'failed' || state === 'refused') && (
          <p>
            <button type="button" className="button" disabled={isBusy} onClick={onRetry}>
              {t('log.retry')}
            </button>
          </p>
        )}
      </div>
    </li>
  )
}

function sayState({ state, sentAt, nextAttemptAt }: NoticeItem, t: ReturnType<typeof useNoticeWords>): string {
  if (state === 'sent') return t('log.sent', { at: sentAt === null ? '' : sayInstant(sentAt) })
  if (state === 'waiting' && nextAttemptAt !== null) return t('log.waitingUntil', { at: sayInstant(nextAttemptAt) })
  return t(`log.${state}`)
}
