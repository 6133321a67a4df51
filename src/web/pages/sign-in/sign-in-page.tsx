import { type FormEvent, useId } from 'react'
import { Trans } from 'react-i18next'
import { useSearchParams } from 'react-router'
import { DEMO_ROLES } from '../../../contract/organisations.js'
import { hasPasskeys, NotGiven, useSignInByPasskey } from '../../api/passkeys.js'
import { ServiceProblem } from '../../api/problem.js'
import { useIsDemo, useLookAs, useSignInByMail } from '../../api/session.js'
import { t } from '../../shell/shell-words.js'
import './sign-in.css'

/** Of the problem that the service answers with where a passkey fits nobody. */
const NOT_ACCEPTED = 'passkey-not-accepted'

/** Sign-in by a link in the mail; in the demo also by picking whom to look as. */
export function SignInPage() {
  const demo = useIsDemo()
  return (
    <div className="page page-narrow">
      <title>{`${t('signIn.title')} · Anode Ledger`}</title>
      <h1>{demo.data ? t('signIn.demo') : t('signIn.title')}</h1>
      {demo.data && <LookAs />}
      <MailForm />
      {hasPasskeys() && <PasskeyDoor />}
    </div>
  )
}

function LookAs() {
  const lookAs = useLookAs()
  const then = useThen()
  return (
    <section className="panel stack" aria-label={t('signIn.lookAs')}>
      <p>{t('signIn.invented')}</p>
      <div className="look-as">
        {DEMO_ROLES.map((role) => (
          <button
            key={role}
            type="button"
            className="button button-main"
            disabled={lookAs.isPending}
            onClick={() => lookAs.mutate({ role, then })}
          >
            {t(`signIn.asRole.${role}`)}
            <small>{t(`signIn.does.${role}`)}</small>
          </button>
        ))}
      </div>
      {lookAs.isError && (
        <p className="field-wrong" role="alert">
          {lookAs.error.message}
        </p>
      )}
    </section>
  )
}

function MailForm() {
  const mail = useSignInByMail()
  const then = useThen()
  const id = useId()
  if (mail.isSuccess) return <MailSent email={mail.variables.email} />
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const email = new FormData(event.currentTarget).get('email')
    if (typeof email === 'string') mail.mutate({ email: email.trim(), then })
  }
  return (
    <form className="panel stack" onSubmit={submit}>
      <div className="field">
        <label htmlFor={id}>{t('signIn.email')}</label>
        <input
          id={id}
          name="email"
          type="email"
          required
          autoComplete="email"
          inputMode="email"
          aria-invalid={mail.isError}
          aria-describedby={`${id}-hint`}
        />
        <span className="field-hint" id={`${id}-hint`}>
          {t('signIn.hint')}
        </span>
        {mail.isError && (
          <p className="field-wrong" role="alert">
            {mail.error.message}
          </p>
        )}
      </div>
      <button type="submit" className="button button-main" disabled={mail.isPending}>
        {t('signIn.send')}
      </button>
    </form>
  )
}

function PasskeyDoor() {
  const door = useSignInByPasskey()
  const then = useThen()
  return (
    <section className="panel stack">
      <button type="button" className="button" disabled={door.isPending} onClick={() => door.mutate(then)}>
        {t('signIn.passkey')}
      </button>
      {door.isError && (
        <p className="field-wrong" role="alert">
          {sayWhyNot(door.error)}
        </p>
      )}
    </section>
  )
}

function sayWhyNot(error: Error): string {
  if (error instanceof NotGiven) return t('signIn.passkeyNo')
  const isUnknown = error instanceof ServiceProblem && error.fields.some(({ code }) => code === NOT_ACCEPTED)
  return isUnknown ? t('signIn.passkeyUnknown') : error.message
}

function MailSent({ email }: { email: string }) {
  return (
    <section className="panel stack" role="status">
      <h2>{t('signIn.look')}</h2>
      <p>
        <Trans t={t} i18nKey="signIn.sent" values={{ email }} components={{ 1: <strong /> }} />
      </p>
    </section>
  )
}

/** The page that was asked for before signing in. Only a path of this site counts: `//elsewhere` and addresses do not. */
function useThen(): string {
  const [query] = useSearchParams()
  const wanted = query.get('then')
  return wanted !== null && /^\/(?![/\\])[^\s\\]*$/.test(wanted) && wanted !== '/sign-in' ? wanted : '/'
}
