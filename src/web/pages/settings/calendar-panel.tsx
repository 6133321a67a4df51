import { type FormEvent, useId } from 'react'
import { type CalendarFeedView, FEED_SCOPES, type FeedScope } from '../../../contract/calendar-feeds.js'
import { LANGUAGES, languageOf } from '../../../messages/languages.js'
import {
  useCalendarFeeds,
  useMakeCalendarFeed,
  useRenewCalendarFeed,
  useRevokeCalendarFeed,
} from '../../api/calendar-feeds.js'
import { usePreferences } from '../../api/preferences.js'
import { useMe } from '../../api/session.js'
import { Trouble } from '../../shell/waiting.js'
import { LANGUAGE_NAMES } from './language-names.js'
import { sayDayOf } from './people-words.js'
import { ShownOnce } from './shown-once.js'
import { useSubscriptionWords } from './subscription-words.js'
import { SureRow } from './sure.js'
import './settings.css'

/** Private links that a calendar program reads: make one, renew it, take it back. */
export function CalendarPanel() {
  const t = useSubscriptionWords()
  const feeds = useCalendarFeeds()
  const make = useMakeCalendarFeed()
  const renew = useRenewCalendarFeed()
  const revoke = useRevokeCalendarFeed()
  if (feeds.isError) return <Trouble error={feeds.error} retry={feeds.refetch} />
  const shown = make.data ?? renew.data
  const failed = make.error ?? renew.error ?? revoke.error
  const done = () => {
    make.reset()
    renew.reset()
  }
  return (
    <section className="panel stack">
      <div>
        <h2>{t('calendar.heading')}</h2>
        <p className="soft">{t('calendar.hint')}</p>
      </div>
      {shown ? (
        <LinkOnce link={shown.link} onDone={done} />
      ) : (
        <MakeLink isBusy={make.isPending} onMake={(feed) => make.mutate(feed)} />
      )}
      {failed && (
        <p className="field-wrong" role="alert">
          {failed.message}
        </p>
      )}
      {feeds.isPending && (
        <p className="waiting" role="status">
          {t('calendar.loading')}
        </p>
      )}
      {feeds.data?.length === 0 && <p className="soft">{t('calendar.none')}</p>}
      <ul className="settings-list">
        {feeds.data?.map((feed) => (
          <FeedRow
            key={feed.id}
            feed={feed}
            isBusy={renew.isPending || revoke.isPending}
            onRenew={() => {
              make.reset()
              renew.mutate(feed)
            }}
            onRevoke={() => {
              done()
              revoke.mutate(feed)
            }}
          />
        ))}
      </ul>
    </section>
  )
}

function LinkOnce({ link, onDone }: { link: string; onDone: () => void }) {
  const t = useSubscriptionWords()
  const words = { copy: t('copy'), copied: t('copied'), done: t('done') }
  return (
    <ShownOnce secret={link} text={`${t('calendar.once')} ${t('calendar.secret')}`} words={words} onDone={onDone}>
      {/* What calendar programs listen for; they then fetch it by HTTP as they like. */}
      <a className="button" href={link.replace(/^https?:/, 'webcal:')}>
        {t('calendar.open')}
      </a>
    </ShownOnce>
  )
}

interface MakeLinkProps {
  isBusy: boolean
  onMake: (feed: { scope: FeedScope; language: (typeof LANGUAGES)[number] }) => void
}

function MakeLink({ isBusy, onMake }: MakeLinkProps) {
  const t = useSubscriptionWords()
  const id = useId()
  const me = useMe()
  const preferences = usePreferences()
  const isOwner = me.data?.role === 'owner'
  const own = preferences.data?.language ?? languageOf(navigator.languages)
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    onMake({
      scope: FEED_SCOPES.find((scope) => scope === form.get('scope')) ?? 'owner',
      language: LANGUAGES.find((language) => language === form.get('language')) ?? own,
    })
  }
  if (me.isPending || preferences.isPending) return null
  return (
    <form className="settings-form" onSubmit={submit}>
      {!isOwner && (
        <div className="field">
          <label htmlFor={`${id}-scope`}>{t('calendar.scopeLabel')}</label>
          <select id={`${id}-scope`} name="scope" defaultValue="yard">
            {FEED_SCOPES.map((scope) => (
              <option key={scope} value={scope}>
                {t(`calendar.scope.${scope}`)}
              </option>
            ))}
          </select>
        </div>
      )}
      <div className="field">
        <label htmlFor={`${id}-language`}>{t('calendar.language')}</label>
        <select id={`${id}-language`} name="language" defaultValue={own}>
          {LANGUAGES.map((language) => (
            <option key={language} value={language} lang={language}>
              {LANGUAGE_NAMES[language]}
            </option>
          ))}
        </select>
      </div>
      <button type="submit" className="button button-main" disabled={isBusy}>
        {t('calendar.make')}
      </button>
    </form>
  )
}

interface FeedRowProps {
  feed: CalendarFeedView
  isBusy: boolean
  onRenew: () => void
  onRevoke: () => void
}

function FeedRow({ feed, isBusy, onRenew, onRevoke }: FeedRowProps) {
  const t = useSubscriptionWords()
  const { scope, language, linkMadeAt, lastReadAt } = feed
  const name = `${t(`calendar.scope.${scope}`)}, ${LANGUAGE_NAMES[language]}`
  return (
    <SureRow
      text={t('calendar.revoke')}
      label={t('calendar.revokeNamed', { name })}
      question={t('calendar.sure', { name })}
      yes={t('calendar.yes')}
      no={t('no')}
      isBusy={isBusy}
      onYes={onRevoke}
    >
      <div className="settings-name">
        <strong>{name}</strong>
        <p className="soft small">
          {t('calendar.made', { day: sayDayOf(linkMadeAt) })},{' '}
          {lastReadAt === null ? t('calendar.unread') : t('calendar.read', { day: sayDayOf(lastReadAt) })}
        </p>
      </div>
      <button
        type="button"
        className="button"
        aria-label={t('calendar.renewNamed', { name })}
        disabled={isBusy}
        onClick={onRenew}
      >
        {t('calendar.renew')}
      </button>
    </SureRow>
  )
}
