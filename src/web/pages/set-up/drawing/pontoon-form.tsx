import type { FormEvent } from 'react'
import { useState } from 'react'
import { EntryField } from '../../haul-out/entry-field.js'
import { ChoiceField } from '../fields.js'
import { useDrawingWords } from './drawing-words.js'
import type { Harbour } from './harbour.js'
import {
  type FieldOfPontoon,
  NUMBERINGS,
  type PontoonDraft,
  readPontoon,
  SHORE_SIDES,
  SHORES,
  type WrongPontoon,
} from './new-pontoon.js'
import type { Step } from './steps.js'

interface PontoonFormProps {
  readonly harbour: Harbour
  readonly draft: PontoonDraft
  readonly change: (part: Partial<PontoonDraft>) => void
  /** Key of the pontoon that it makes. */
  readonly nextKey: () => string
  readonly onAdd: (step: Step) => void
}

/** A pontoon with its berths in one go; a stroke on the plan fills in what it tells. */
export function PontoonForm({ harbour, draft, change, nextKey, onAdd }: PontoonFormProps) {
  const t = useDrawingWords()
  const [wrong, setWrong] = useState<WrongPontoon>({})
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const read = readPontoon(harbour, draft, nextKey())
    if ('wrong' in read) return setWrong(read.wrong)
    setWrong({})
    onAdd(read)
  }
  const wrongOf = (field: FieldOfPontoon) => wrong[field] && t(`wrong.${wrong[field]}`)
  const edge = SHORE_SIDES.find((side) => String(SHORES[side]) === draft.headingDegrees.trim())
  const text = (field: Exclude<keyof PontoonDraft, 'shore' | 'numbering'>) => ({
    value: draft[field],
    onChange: (value: string) => change({ [field]: value }),
  })
  return (
    <form className="stack" onSubmit={submit} noValidate>
      <h3>{t('add.heading')}</h3>
      <div className="set-up-fields">
        <EntryField label={t('add.name')} wrong={wrongOf('name')} {...text('name')} />
        <EntryField label={t('add.before')} hint={t('add.beforeHint')} {...text('before')} />
        <EntryField label={t('add.left')} hint={t('add.leftHint')} wrong={wrongOf('left')} {...text('left')} />
        <EntryField label={t('add.right')} wrong={wrongOf('right')} {...text('right')} />
        <ChoiceField
          label={t('add.numbering')}
          value={draft.numbering}
          choices={NUMBERINGS.map((each) => [each, t(`numbering.${each}`)] as const)}
          onChange={(numbering) => change({ numbering: numbering || 'across' })}
        />
        <ChoiceField
          label={t('add.shore')}
          none={t('shore.other')}
          value={edge ?? ''}
          choices={SHORE_SIDES.map((side) => [side, t(`shore.${side}`)] as const)}
          onChange={(side) => side !== '' && change({ headingDegrees: String(SHORES[side]) })}
        />
        <EntryField
          label={t('line.heading')}
          type="number"
          unit="°"
          hint={t('line.headingHint')}
          wrong={wrongOf('headingDegrees')}
          {...text('headingDegrees')}
        />
        <EntryField label={t('line.length')} type="number" unit="m" wrong={wrongOf('lengthM')} {...text('lengthM')} />
        <EntryField label={t('line.width')} type="number" unit="m" wrong={wrongOf('widthM')} {...text('widthM')} />
      </div>
      <p>
        <button type="submit" className="button">
          {t('add.do')}
        </button>
      </p>
    </form>
  )
}
