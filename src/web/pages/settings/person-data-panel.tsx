import { type FormEvent, useEffect, useId, useState } from 'react'
import type { PersonData } from '../../../contract/people.js'
import { useForgetPerson, useLookUpPerson } from '../../api/person-data.js'
import { usePeopleWords } from './people-words.js'

/** What is on record of a person, to hand out to them, and its removal after it was looked at. */
export function PersonDataPanel() {
  const t = usePeopleWords()
  const found = useLookUpPerson()
  const forgetting = useForgetPerson()
  const id = useId()
  const lookUp = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const email = new FormData(event.currentTarget).get('email')
    forgetting.reset()
    if (typeof email === 'string') found.mutate(email.trim())
  }
  const forget = (email: string, confirm: string) =>
    forgetting.mutate({ email, confirm }, { onSuccess: () => found.reset() })
  return (
    <section className="panel stack">
      <h2>{t('data.heading')}</h2>
      <p className="soft">{t('data.hint')}</p>
      <form className="settings-form" onSubmit={lookUp}>
        <div className="field">
          <label htmlFor={id}>{t('data.email')}</label>
          <input id={id} name="email" type="email" required autoComplete="off" aria-invalid={found.isError} />
        </div>
        <button type="submit" className="button" disabled={found.isPending}>
          {t('data.show')}
        </button>
      </form>
      {found.isError && (
        <p className="field-wrong" role="alert">
          {found.error.message}
        </p>
      )}
      {found.data && <OnRecord person={found.data} />}
      {found.data && isOnRecord(found.data) && (
        <Removal
          key={found.data.email}
          email={found.data.email}
          isBusy={forgetting.isPending}
          trouble={forgetting.error?.message}
          onForget={forget}
        />
      )}
      <p className="settings-state" role="status">
        {forgetting.isSuccess && t('data.gone', { alias: forgetting.data.alias })}
      </p>
    </section>
  )
}

function isOnRecord({ role, ownerNames, boats, hasSignedIn, letters, notes, ...counts }: PersonData): boolean {
  const numbers = [counts.calendarFeeds, counts.savedViews, counts.changes, counts.stepsOfFindings]
  const lists = [ownerNames, boats, letters, notes]
  return role !== null || hasSignedIn || lists.some((list) => list.length > 0) || numbers.some((number) => number > 0)
}

function OnRecord({ person }: { person: PersonData }) {
  const t = usePeopleWords()
  if (!isOnRecord(person)) return <p role="status">{t('data.nothing', { email: person.email })}</p>
  const { role, ownerNames, boats, hasSignedIn, calendarFeeds, savedViews, letters, notes, changes, stepsOfFindings } =
    person
  const shown: [string, string | number][] = [
    [t('data.role'), role === null ? t('data.none') : t(`role.${role}`)],
    [t('data.names'), ownerNames.join(', ') || t('data.none')],
    [t('data.boats'), boats.join(', ') || t('data.none')],
    [t('data.signedIn'), hasSignedIn ? t('data.yes') : t('data.no')],
    [t('data.calendars'), calendarFeeds],
    [t('data.views'), savedViews],
    [t('data.letters'), letters.length],
    [t('data.notes'), notes.length],
    [t('data.changes'), changes],
    [t('data.steps'), stepsOfFindings],
  ]
  return (
    <div className="stack" role="status">
      <h3>{person.email}</h3>
      <dl className="settings-record">
        {shown.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <CopyToHandOut person={person} />
    </div>
  )
}

function CopyToHandOut({ person }: { person: PersonData }) {
  const t = usePeopleWords()
  const [address, setAddress] = useState<string>()
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([JSON.stringify(person, null, 2)], { type: 'application/json' }))
    setAddress(made)
    return () => URL.revokeObjectURL(made)
  }, [person])
  return (
    <p>
      <a className="button" href={address} download="data.json">
        {t('data.copy')}
      </a>
    </p>
  )
}

interface RemovalProps {
  email: string
  isBusy: boolean
  /** Why it was not done. */
  trouble: string | undefined
  onForget: (email: string, confirm: string) => void
}

/** The address is written once more: what is removed does not come back. */
function Removal({ email, isBusy, trouble, onForget }: RemovalProps) {
  const t = usePeopleWords()
  const id = useId()
  const [isAsking, setIsAsking] = useState(false)
  const [confirm, setConfirm] = useState('')
  if (!isAsking)
    return (
      <p>
        <button type="button" className="button" onClick={() => setIsAsking(true)}>
          {t('data.remove')}
        </button>
      </p>
    )
  const submit = (event: FormEvent) => {
    event.preventDefault()
    onForget(email, confirm.trim())
  }
  return (
    <form className="settings-sure stack-tight" onSubmit={submit}>
      <p>{t('data.goes')}</p>
      <p>{t('data.stays')}</p>
      <p>{t('data.backups')}</p>
      <div className="field">
        <label htmlFor={id}>{t('data.confirm', { email })}</label>
        <input
          id={id}
          type="email"
          required
          autoComplete="off"
          value={confirm}
          onChange={({ target }) => setConfirm(target.value)}
        />
      </div>
      {trouble && (
        <p className="field-wrong" role="alert">
          {trouble}
        </p>
      )}
      <p className="chips">
        <button
          type="submit"
          className="button button-main"
          disabled={isBusy || confirm.trim().toLowerCase() !== email.toLowerCase()}
        >
          {t('data.sure')}
        </button>
        <button type="button" className="button" onClick={() => setIsAsking(false)}>
          {t('data.no')}
        </button>
      </p>
    </form>
  )
}
