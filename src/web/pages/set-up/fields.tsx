import { type HTMLInputTypeAttribute, useId } from 'react'

interface TextFieldProps {
  label: string
  value: string
  onChange: (value: string) => void
  hint?: string
  /** What the service found wrong with it. */
  wrong?: string | undefined
  type?: HTMLInputTypeAttribute
  /** Which keys a phone shows. */
  inputMode?: 'decimal'
  isNeeded?: true
}

export function TextField({ label, value, onChange, hint, wrong, type = 'text', inputMode, isNeeded }: TextFieldProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type={type}
        inputMode={inputMode}
        value={value}
        required={isNeeded ?? false}
        autoComplete="off"
        aria-invalid={wrong !== undefined}
        aria-describedby={describedBy(id, { hint, wrong })}
        onChange={({ target }) => onChange(target.value)}
      />
      <Described id={id} hint={hint} wrong={wrong} />
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
  hint?: string
  /** What the service found wrong with it. */
  wrong?: string | undefined
  isNeeded?: true
}

export function ChoiceField<Value extends string>({
  label,
  value,
  none,
  choices,
  onChange,
  hint,
  wrong,
  isNeeded,
}: ChoiceFieldProps<Value>) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        required={isNeeded ?? false}
        aria-invalid={wrong !== undefined}
        aria-describedby={describedBy(id, { hint, wrong })}
        onChange={({ target }) => onChange(choices.find(([key]) => key === target.value)?.[0] ?? '')}
      >
        {none !== undefined && <option value="">{none}</option>}
        {choices.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
      <Described id={id} hint={hint} wrong={wrong} />
    </div>
  )
}

interface Descriptions {
  hint: string | undefined
  wrong: string | undefined
}

function Described({ id, hint, wrong }: Descriptions & { id: string }) {
  return (
    <>
      {hint !== undefined && (
        <span className="field-hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {wrong !== undefined && (
        <p className="field-wrong" id={`${id}-wrong`}>
          {wrong}
        </p>
      )}
    </>
  )
}

function describedBy(id: string, { hint, wrong }: Descriptions): string | undefined {
  const ids = [hint === undefined ? [] : `${id}-hint`, wrong === undefined ? [] : `${id}-wrong`].flat()
  return ids.length === 0 ? undefined : ids.join(' ')
}
