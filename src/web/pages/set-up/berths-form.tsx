import { type FormEvent, useId, useState } from 'react'
import { WATERS } from '../../../contract/vocabulary.js'
import { useAdd } from '../../api/imports.js'
import { AdditionState } from './addition.js'
import { type BerthNames, berthNames } from './berth-names.js'
import { ChoiceField, TextField } from './fields.js'
import { type BerthsEntry, berthFiles } from './form-files.js'
import { useSetUpWords } from './set-up-words.js'

const EMPTY: Omit<BerthsEntry, 'names'> = { pontoon: '', water: '', salinityPsu: '', shorePower: '' }

/** A whole pontoon's berths in one line. */
export function BerthsForm() {
  const t = useSetUpWords()
  const adding = useAdd()
  const [text, setText] = useState('')
  const [entry, setEntry] = useState(EMPTY)
  const made = berthNames(text)
  const change = (part: Partial<typeof EMPTY>) => setEntry((before) => ({ ...before, ...part }))
  const onAdded = () => setText('')
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const files = berthFiles({ ...entry, names: made.names })
    adding.mutate({ files, existing: 'tell' }, { onSuccess: ({ dryRun }) => (dryRun ? undefined : onAdded()) })
  }
  return (
    <form className="panel stack" onSubmit={submit}>
      <h2>{t('berths.heading')}</h2>
      <NamesField text={text} made={made} onChange={setText} />
      <div className="set-up-fields">
        <TextField
          label={t('berths.pontoon')}
          hint={t('berths.pontoonHint')}
          value={entry.pontoon}
          onChange={(pontoon) => change({ pontoon })}
        />
        <ChoiceField
          label={t('berths.water')}
          none={t('unknown')}
          value={entry.water}
          choices={WATERS.map((water) => [water, t(`berths.${water}`)] as const)}
          onChange={(water) => change({ water })}
        />
        <TextField
          label={t('berths.salinity')}
          value={entry.salinityPsu}
          onChange={(salinityPsu) => change({ salinityPsu: salinityPsu.replace(',', '.') })}
        />
        <ChoiceField<'yes' | 'no'>
          label={t('berths.shorePower')}
          none={t('unknown')}
          value={entry.shorePower}
          choices={[
            ['yes', t('yes')],
            ['no', t('no')],
          ]}
          onChange={(shorePower) => change({ shorePower })}
        />
      </div>
      <AdditionState adding={adding} onAdded={onAdded} />
      <button
        type="submit"
        className="button button-main"
        disabled={adding.isPending || made.names.length === 0 || made.wrong.length > 0}
      >
        {t('berths.add')}
      </button>
    </form>
  )
}

interface NamesFieldProps {
  text: string
  made: BerthNames
  onChange: (text: string) => void
}

function NamesField({ text, made: { names, wrong }, onChange }: NamesFieldProps) {
  const t = useSetUpWords()
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{t('berths.names')}</label>
      <textarea
        id={id}
        rows={2}
        value={text}
        aria-invalid={wrong.length > 0}
        aria-describedby={`${id}-hint ${id}-made`}
        onChange={({ target }) => onChange(target.value)}
      />
      <span className="field-hint" id={`${id}-hint`}>
        {t('berths.namesHint')}
      </span>
      <p id={`${id}-made`} role="status">
        <strong>{t('berths.count', { count: names.length, first: names[0], last: names.at(-1) })}</strong>
        {wrong.length > 0 && <span className="field-wrong">{t('berths.wrong', { entries: wrong.join(', ') })}</span>}
      </p>
    </div>
  )
}
