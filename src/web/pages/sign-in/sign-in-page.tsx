import { type FormEvent, useId } from 'react'
import { useSearchParams } from 'react-router'
import { DEMO_ROLES, type DemoRole } from '../../../contract/organisations.js'
import { useIsDemo, useLookAs, useSignInByMail } from '../../api/session.js'
import './sign-in.css'

const WHAT_THEY_DO: Readonly<Record<DemoRole, string>> = {
  staff: 'logs haul-outs',
  owner: 'sees own boats',
  manager: 'plans the fleet',
}

/** Sign-in by a link in the mail; in the demo also by picking whom to look as. */
export function SignInPage() {
  const demo = useIsDemo()
  return (
    <div className="page page-narrow">
      <title>Sign in · Anode Ledger</title>
      <h1>{demo.data ? 'Look round the demo harbour' : 'Sign in'}</h1>
      {demo.data && <LookAs />}
      <MailForm />
    </div>
  )
}

function LookAs() {
  const lookAs = useLookAs()
  const then = useThen()
  return (
    <section className="panel stack" aria-label="Look as">
      <p>An invented harbour with five years of weighings. Whose eyes will you look through?</p>
      <div className="look-as">
        {DEMO_ROLES.map((role) => (
          <button
            key={role}
            type="button"
            className="button button-main"
            disabled={lookAs.isPending}
            onClick={() => lookAs.mutate({ role, then })}
          >
            Look as {role}
            <small>{WHAT_THEY_DO[role]}</small>
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
        <label htmlFor={id}>Your e-mail address</label>
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
          We send a link that signs you in. No password.
        </span>
        {mail.isError && (
          <p className="field-wrong" role="alert">
            {mail.error.message}
          </p>
        )}
      </div>
      <button type="submit" className="button button-main" disabled={mail.isPending}>
        Send me a link
      </button>
    </form>
  )
}

function MailSent({ email }: { email: string }) {
  return (
    <section className="panel stack" role="status">
      <h2>Look in your mail</h2>
      <p>
        If <strong>{email}</strong> belongs to a member, a link is on its way. Open it on this device; it works once and
        only for a short time.
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
