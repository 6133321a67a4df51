import { type FormEvent, useState } from 'react'
import { HULLS, YES_NO_UNKNOWN } from '../../../contract/vocabulary.js'
import { useBerths } from '../../api/boats.js'
import { useAdd } from '../../api/imports.js'
import { localToday } from '../../wording/days.js'
import { AdditionState } from './addition.js'
import { ChoiceField, TextField } from './fields.js'
import { type BoatEntry, boatFiles } from './form-files.js'
import { useSetUpWords } from './set-up-words.js'

function emptyBoat(): BoatEntry {
  const since = localToday(new Date())
  return { name: '', ownerName: '', ownerEmail: '', hull: '', galvanicIsolator: '', berth: '', since }
}

interface BoatFormProps {
  onBoatAdded: (name: string) => void
}

/** One boat, with her owner and where she lies. */
export function BoatForm({ onBoatAdded }: BoatFormProps) {
  const t = useSetUpWords()
  const adding = useAdd()
  const berths = useBerths()
  const [entry, setEntry] = useState(emptyBoat)
  const change = (part: Partial<BoatEntry>) => setEntry((before) => ({ ...before, ...part }))
  // As sent: the form may say something else by the time that a question about it is answered.
  const [sent, setSent] = useState('')
  const onAdded = (name: string) => {
    setEntry(emptyBoat())
    onBoatAdded(name)
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const name = entry.name.trim()
    setSent(name)
    const files = boatFiles({ ...entry, name })
    adding.mutate({ files, existing: 'tell' }, { onSuccess: ({ dryRun }) => (dryRun ? undefined : onAdded(name)) })
  }
  return (
    <form className="panel stack" onSubmit={submit}>
      <h2>{t('boat.heading')}</h2>
      <div className="set-up-fields">
        <TextField label={t('boat.name')} isNeeded value={entry.name} onChange={(name) => change({ name })} />
        <TextField
          label={t('boat.ownerName')}
          value={entry.ownerName}
          onChange={(ownerName) => change({ ownerName })}
        />
        <TextField
          label={t('boat.ownerEmail')}
          type="email"
          hint={t('boat.ownerHint')}
          value={entry.ownerEmail}
          onChange={(ownerEmail) => change({ ownerEmail })}
        />
        <ChoiceField
          label={t('boat.hull')}
          none={t('unknown')}
          value={entry.hull}
          choices={HULLS.map((hull) => [hull, t(`boat.${hull}`)] as const)}
          onChange={(hull) => change({ hull })}
        />
        <ChoiceField
          label={t('boat.isolator')}
          none={t('unknown')}
          value={entry.galvanicIsolator}
          choices={YES_NO_UNKNOWN.map((word) => [word, t(word)] as const)}
          onChange={(galvanicIsolator) => change({ galvanicIsolator })}
        />
        <ChoiceField
          label={t('boat.berth')}
          none={t('unknown')}
          value={entry.berth}
          choices={(berths.data ?? []).map(({ name }) => [name, name] as const)}
          onChange={(berth) => change({ berth })}
        />
        {entry.berth !== '' && (
          <TextField
            label={t('boat.since')}
            type="date"
            isNeeded
            value={entry.since}
            onChange={(since) => change({ since })}
          />
        )}
      </div>
      <AdditionState adding={adding} onAdded={() => onAdded(sent)} />
      <p className="field-hint">{t('boat.next')}</p>
      <button type="submit" className="button button-main" disabled={adding.isPending}>
        {t('boat.add')}
      </button>
    </form>
  )
}
