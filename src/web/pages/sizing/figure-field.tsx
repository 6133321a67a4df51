import { EntryField } from '../haul-out/entry-field.js'
import type { Wrong } from './answer-of.js'
import type { FigureField as Field, SizingDraft } from './sizing-draft.js'
import { sayWrong, useSizingWords } from './sizing-words.js'

export interface FieldsProps {
  readonly draft: SizingDraft
  readonly problems: ReadonlyMap<string, Wrong>
  readonly change: (part: Partial<SizingDraft>) => void
}

interface FigureFieldProps extends FieldsProps {
  field: Field
  label: string
  unit: string
  hint?: string
}

/** One figure of the form, with what is wrong with it. */
export function FigureField({ draft, problems, change, field, label, unit, hint }: FigureFieldProps) {
  const t = useSizingWords()
  return (
    <EntryField
      label={label}
      type="number"
      unit={unit}
      hint={hint}
      value={draft[field]}
      wrong={sayWrong(problems.get(field), t)}
      onChange={(value) => change({ [field]: value })}
    />
  )
}
