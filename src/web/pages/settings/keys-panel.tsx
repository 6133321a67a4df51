import { type FormEvent, useId } from 'react'
import { type ApiKeyView, KEY_ROLES, KEY_SCOPES } from '../../../contract/access.js'
import { useApiKeys, useMakeApiKey, useRenewSecret, useRevokeApiKey } from '../../api/people.js'
import { Trouble } from '../../shell/waiting.js'
import { sayDayOf, usePeopleWords } from './people-words.js'
import { ShownOnce } from './shown-once.js'
import { SureRow } from './sure.js'

/** Keys of programs: make one, show it once, give it another secret, take it back. */
export function KeysPanel() {
  const t = usePeopleWords()
  const keys = useApiKeys()
  const revoke = useRevokeApiKey()
  const renew = useRenewSecret()
  const failed = revoke.error ?? renew.error
  if (keys.isError) return <Trouble error={keys.error} retry={keys.refetch} />
  return (
    <section className="panel stack">
      <div>
        <h2>{t('keys.heading')}</h2>
        <p className="soft">{t('keys.hint')}</p>
      </div>
      <MakeKey />
      {keys.isPending && (
        <p className="waiting" role="status">
          {t('keys.loading')}
        </p>
      )}
      {keys.data?.length === 0 && <p className="soft">{t('keys.none')}</p>}
      {failed && (
        <p className="field-wrong" role="alert">
          {failed.message}
        </p>
      )}
      {renew.isSuccess && (
        <ShownOnce
          secret={renew.data.secret}
          text={t('keys.renewed', { name: renew.data.name })}
          words={{ copy: t('keys.copy'), copied: t('keys.copied'), done: t('keys.done') }}
          onDone={() => renew.reset()}
        />
      )}
      <ul className="settings-list">
        {keys.data?.map((key) => (
          <KeyRow
            key={key.id}
            apiKey={key}
            isBusy={revoke.isPending || renew.isPending}
            onRevoke={() => revoke.mutate(key)}
            onRenew={() => renew.mutate(key)}
          />
        ))}
      </ul>
    </section>
  )
}

function MakeKey() {
  const t = usePeopleWords()
  const make = useMakeApiKey()
  const id = useId()
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    const until = form.get('until')
    make.mutate({
      name: String(form.get('name') ?? '').trim(),
      role: KEY_ROLES.find((role) => role === form.get('role')) ?? 'staff',
      scope: KEY_SCOPES.find((scope) => scope === form.get('scope')) ?? 'all',
      // The whole of its last day.
      ...(typeof until === 'string' && until !== '' && { expiresAt: `${until}T23:59:59Z` }),
    })
  }
  if (make.isSuccess) {
    const words = { copy: t('keys.copy'), copied: t('keys.copied'), done: t('keys.done') }
    return <ShownOnce secret={make.data.secret} text={t('keys.once')} words={words} onDone={() => make.reset()} />
  }
  return (
    <form className="settings-form" onSubmit={submit}>
      <div className="field">
        <label htmlFor={id}>{t('keys.name')}</label>
        <input id={id} name="name" required maxLength={100} autoComplete="off" />
      </div>
      <div className="field">
        <label htmlFor={`${id}-role`}>{t('people.role')}</label>
        <select id={`${id}-role`} name="role" defaultValue="staff">
          {KEY_ROLES.map((role) => (
            <option key={role} value={role}>
              {t(`role.${role}`)}
            </option>
          ))}
        </select>
      </div>
      <div className="field">
        <label htmlFor={`${id}-scope`}>{t('keys.scope')}</label>
        <select id={`${id}-scope`} name="scope" defaultValue="all">
          {KEY_SCOPES.map((scope) => (
            <option key={scope} value={scope}>
              {t(`keys.scopes.${scope}`)}
            </option>
          ))}
        </select>
      </div>
      <div className="field">
        <label htmlFor={`${id}-until`}>{t('keys.expires')}</label>
        <input id={`${id}-until`} name="until" type="date" />
      </div>
      <button type="submit" className="button button-main" disabled={make.isPending}>
        {t('keys.make')}
      </button>
      {make.isError && (
        <p className="field-wrong settings-whole" role="alert">
          {make.error.message}
        </p>
      )}
    </form>
  )
}

interface KeyRowProps {
  apiKey: ApiKeyView
  isBusy: boolean
  onRevoke: () => void
  onRenew: () => void
}

function KeyRow({ apiKey, isBusy, onRevoke, onRenew }: KeyRowProps) {
  const t = usePeopleWords()
  const { name, role, scope, prefix, createdAt, lastUsedAt, revokedAt, previousSecret } = apiKey
  const facts = (
    <div className="settings-name">
      <strong>{name}</strong>{' '}
      <span className="soft">
        {[t(`role.${role}`), ...(scope === 'all' ? [] : [t(`keys.scopes.${scope}`)])].join(', ')}
      </span>
      <p className="soft small">
        {[
          t('keys.begins', { prefix }),
          t('keys.made', { day: sayDayOf(createdAt) }),
          lastUsedAt === null ? t('keys.unused') : t('keys.used', { day: sayDayOf(lastUsedAt) }),
          useEnd(apiKey),
          previousSecret && t('keys.before', { prefix: previousSecret.prefix, day: sayDayOf(previousSecret.until) }),
        ]
          .filter(Boolean)
          .join(', ')}
      </p>
    </div>
  )
  if (revokedAt !== null) return <li>{facts}</li>
  return (
    <SureRow
      text={t('keys.revoke')}
      label={t('keys.revokeNamed', { name })}
      question={t('keys.sure', { name })}
      yes={t('keys.yes')}
      no={t('keys.no')}
      isBusy={isBusy}
      onYes={onRevoke}
    >
      {facts}
      <button
        type="button"
        className="button"
        aria-label={t('keys.renewNamed', { name })}
        disabled={isBusy}
        onClick={onRenew}
      >
        {t('keys.renew')}
      </button>
    </SureRow>
  )
}

/** How long it opens, or since when it does not. */
function useEnd({ expiresAt, revokedAt }: ApiKeyView): string {
  const t = usePeopleWords()
  if (revokedAt !== null) return t('keys.revoked', { day: sayDayOf(revokedAt) })
  if (expiresAt === null) return ''
  const isOver = expiresAt < new Date().toISOString()
  return isOver ? t('keys.expired', { day: sayDayOf(expiresAt) }) : t('keys.until', { day: sayDayOf(expiresAt) })
}
