import { type InputHTMLAttributes, useId } from 'react'

export type Choices = readonly (readonly [value: string, text: string])[]

interface ChoiceProps {
  label: string
  value: string
  choices: Choices
  onChange: (value: string) => void
}

/** One of a few, by its label. */
export function Choice({ label, value, choices, onChange }: ChoiceProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        {choices.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </div>
  )
}

interface EntryProps extends Pick<InputHTMLAttributes<HTMLInputElement>, 'type' | 'min' | 'max' | 'inputMode'> {
  label: string
  hint?: string
  value: string
  onChange: (value: string) => void
}

/** A day, a number or a text, by its label. */
export function Entry({ label, hint, value, onChange, ...input }: EntryProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        {...input}
        id={id}
        value={value}
        aria-describedby={hint ? `${id}-hint` : undefined}
        onChange={(event) => onChange(event.target.value)}
      />
      {hint && (
        <span id={`${id}-hint`} className="field-hint">
          {hint}
        </span>
      )}
    </div>
  )
}
