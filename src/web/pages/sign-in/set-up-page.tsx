import { type FormEvent, useId } from 'react'
import { useSearchParams } from 'react-router'
import { ServiceProblem } from '../../api/problem.js'
import { useSetUp } from '../../api/session.js'

/** First start of a service: its log prints a link to here that works once. */
export default function SetUpPage() {
  const [query] = useSearchParams()
  const token = query.get('token')
  return (
    <div className="page page-narrow">
      <title>Set up · Anode Ledger</title>
      <h1>Set up your yard</h1>
      {token === null ? (
        <p className="panel">
          The link is not whole. Open it exactly as the service printed it in its log at the first start.
        </p>
      ) : (
        <SetUpForm token={token} />
      )}
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
      <TextField name="organisationName" label="Name of your yard or marina" wrong={wrongAt('/organisationName')} />
      <TextField name="email" label="Your e-mail address" type="email" wrong={wrongAt('/email')} />
      {elsewhere && (
        <p className="field-wrong" role="alert">
          {problem.message}
        </p>
      )}
      <button type="submit" className="button button-main" disabled={setUp.isPending}>
        Set up
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
      <h2>Look in your mail</h2>
      <p>
        A link that signs <strong>{email}</strong> in is on its way. Without a mail server set, the service prints it in
        its log.
      </p>
    </section>
  )
}

function textOf(form: FormData, name: string): string {
  const value = form.get(name)
  return typeof value === 'string' ? value.trim() : ''
}
