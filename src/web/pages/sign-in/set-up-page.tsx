import { type FormEvent, useId } from 'react'
import { Trans } from 'react-i18next'
import { useSearchParams } from 'react-router'
import { ServiceProblem } from '../../api/problem.js'
import { useSetUp } from '../../api/session.js'
import { t } from '../../shell/shell-words.js'

/** First start of a service: its log prints a link to here that works once. */
export default function SetUpPage() {
  const [query] = useSearchParams()
  const token = query.get('token')
  return (
    <div className="page page-narrow">
      <title>{`${t('setUp.title')} · Anode Ledger`}</title>
      <h1>{t('setUp.heading')}</h1>
      {token === null ? <p className="panel">{t('setUp.notWhole')}</p> : <SetUpForm token={token} />}
    </div>
  )
}

function SetUpForm({ token }: { token: string }) {
  const setUp = useSetUp()
  if (setUp.isSuccess) return <Done email={setUp.variables.email} />
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    setUp.mutate({ token, organisationName: textOf(form, 'organisationName'), email: textOf(form, 'email') })
  }
  const problem = setUp.error
  const wrongAt = (pointer: string) =>
    problem instanceof ServiceProblem ? problem.fields.find((field) => field.pointer === pointer)?.detail : undefined
  const elsewhere = problem && !wrongAt('/organisationName') && !wrongAt('/email')
  return (
    <form className="panel stack" onSubmit={submit}>
      <TextField name="organisationName" label={t('setUp.name')} wrong={wrongAt('/organisationName')} />
      <TextField name="email" label={t('signIn.email')} type="email" wrong={wrongAt('/email')} />
      {elsewhere && (
        <p className="field-wrong" role="alert">
          {problem.message}
        </p>
      )}
      <button type="submit" className="button button-main" disabled={setUp.isPending}>
        {t('setUp.title')}
      </button>
    </form>
  )
}

interface TextFieldProps {
  name: string
  label: string
  type?: 'text' | 'email'
  wrong: string | undefined
}

function TextField({ name, label, type = 'text', wrong }: TextFieldProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        name={name}
        type={type}
        required
        autoComplete={type === 'email' ? 'email' : 'organization'}
        aria-invalid={wrong !== undefined}
        aria-describedby={wrong === undefined ? undefined : `${id}-wrong`}
      />
      {wrong !== undefined && (
        <p className="field-wrong" id={`${id}-wrong`} role="alert">
          {wrong}
        </p>
      )}
    </div>
  )
}

function Done({ email }: { email: string }) {
  return (
    <section className="panel stack" role="status">
      <h2>{t('signIn.look')}</h2>
      <p>
        <Trans t={t} i18nKey="setUp.sent" values={{ email }} components={{ 1: <strong /> }} />
      </p>
    </section>
  )
}

function textOf(form: FormData, name: string): string {
  const value = form.get(name)
  return typeof value === 'string' ? value.trim() : ''
}
