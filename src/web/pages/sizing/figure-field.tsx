import { EntryField } from '../haul-out/entry-field.js'
import type { FigureField as Field, SizingDraft } from './sizing-draft.js'

export interface FieldsProps {
  readonly draft: SizingDraft
  readonly problems: ReadonlyMap<string, string>
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
  return (
    <EntryField
      label={label}
      type="number"
      unit={unit}
      hint={hint}
      value={draft[field]}
      wrong={problems.get(field)}
      onChange={(value) => change({ [field]: value })}
    />
  )
}
