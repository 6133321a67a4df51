import { type FormEvent, useId, useState } from 'react'
import type { MemberView } from '../../../contract/organisations.js'
import { ROLES, type Role } from '../../../contract/vocabulary.js'
import { useChangeRole, useInvite, useMembers, useRemoveMember } from '../../api/people.js'
import { useMe } from '../../api/session.js'
import { Trouble } from '../../shell/waiting.js'
import { usePeopleWords } from './people-words.js'
import { SureRow } from './sure.js'

/** People of the organisation: invite, change a role, remove. */
export function MembersPanel() {
  const t = usePeopleWords()
  const members = useMembers()
  const change = useChangeRole()
  const removal = useRemoveMember()
  const failed = change.error ?? removal.error
  if (members.isError) return <Trouble error={members.error} retry={members.refetch} />
  return (
    <section className="panel stack">
      <h2>{t('people.heading')}</h2>
      <InviteForm />
      {members.isPending && (
        <p className="waiting" role="status">
          {t('people.loading')}
        </p>
      )}
      {failed && (
        <p className="field-wrong" role="alert">
          {failed.message}
        </p>
      )}
      <ul className="settings-list">
        {members.data?.map((member) => (
          <MemberRow
            key={member.id}
            member={member}
            isBusy={removal.isPending || change.isPending}
            onRole={(role) => change.mutate({ ...member, role })}
            onRemove={() => removal.mutate(member)}
          />
        ))}
      </ul>
    </section>
  )
}

function InviteForm() {
  const t = usePeopleWords()
  const invite = useInvite()
  const id = useId()
  const [role, setRole] = useState<Role>('staff')
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const form = event.currentTarget
    const email = new FormData(form).get('email')
    if (typeof email === 'string') invite.mutate({ email: email.trim(), role }, { onSuccess: () => form.reset() })
  }
  return (
    <form className="settings-form" onSubmit={submit}>
      <div className="field">
        <label htmlFor={id}>{t('people.email')}</label>
        <input
          id={id}
          name="email"
          type="email"
          required
          autoComplete="off"
          inputMode="email"
          aria-invalid={invite.isError}
        />
      </div>
      <div className="field">
        <label htmlFor={`${id}-role`}>{t('people.role')}</label>
        <RoleSelect id={`${id}-role`} value={role} onChange={setRole} />
      </div>
      <button type="submit" className="button button-main" disabled={invite.isPending}>
        {t('people.invite')}
      </button>
      <p className="field-hint settings-whole">{t(`may.${role}`)}</p>
      <p className="settings-state settings-whole" role="status">
        {invite.isSuccess && t('people.invited', { email: invite.data.email })}
      </p>
      {invite.isError && (
        <p className="field-wrong settings-whole" role="alert">
          {invite.error.message}
        </p>
      )}
    </form>
  )
}

interface MemberRowProps {
  member: MemberView
  isBusy: boolean
  onRole: (role: Role) => void
  onRemove: () => void
}

function MemberRow({ member: { email, role, signedIn }, isBusy, onRole, onRemove }: MemberRowProps) {
  const t = usePeopleWords()
  const me = useMe()
  const id = useId()
  return (
    <SureRow
      text={t('people.remove')}
      label={t('people.removeNamed', { email })}
      question={t('people.sure', { email })}
      yes={t('people.yes')}
      no={t('people.no')}
      isBusy={isBusy}
      onYes={onRemove}
    >
      <div className="settings-name">
        <strong>{email}</strong> {me.data?.email === email && <span className="tag">{t('people.you')}</span>}
        <p className="soft small">{signedIn ? t('people.here') : t('people.notHere')}</p>
      </div>
      <div>
        <label className="unseen" htmlFor={id}>
          {t('people.roleOf', { email })}
        </label>
        <RoleSelect id={id} value={role} onChange={onRole} />
      </div>
    </SureRow>
  )
}

interface RoleSelectProps {
  id: string
  value: Role
  onChange: (role: Role) => void
}

function RoleSelect({ id, value, onChange }: RoleSelectProps) {
  const t = usePeopleWords()
  return (
    <select
      id={id}
      value={value}
      onChange={({ target }) => onChange(ROLES.find((role) => role === target.value) ?? value)}
    >
      {ROLES.map((role) => (
        <option key={role} value={role}>
          {t(`role.${role}`)}
        </option>
      ))}
    </select>
  )
}
