import { type HTMLInputTypeAttribute, useId } from 'react'

interface TextFieldProps {
  label: string
  value: string
  onChange: (value: string) => void
  hint?: string
  type?: HTMLInputTypeAttribute
  isNeeded?: true
}

export function TextField({ label, value, onChange, hint, type = 'text', isNeeded }: TextFieldProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type={type}
        value={value}
        required={isNeeded ?? false}
        autoComplete="off"
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onChange={({ target }) => onChange(target.value)}
      />
      {hint !== undefined && (
        <span className="field-hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
    </div>
  )
}

interface ChoiceFieldProps<Value extends string> {
  label: string
  value: Value | ''
  /** What stands for no choice; without it there is none. */
  none?: string
  choices: readonly (readonly [value: Value, text: string])[]
  onChange: (value: Value | '') => void
}

export function ChoiceField<Value extends string>({ label, value, none, choices, onChange }: ChoiceFieldProps<Value>) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={({ target }) => onChange(choices.find(([key]) => key === target.value)?.[0] ?? '')}
      >
        {none !== undefined && <option value="">{none}</option>}
        {choices.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </div>
  )
}
