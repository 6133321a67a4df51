import { useId } from 'react'

interface SegmentsProps<Value extends string> {
  label: string
  value: Value | null
  choices: readonly (readonly [value: Value, text: string])[]
  onChange: (value: Value) => void
}

/** One of a few, side by side, each large enough for a wet thumb. */
export function Segments<Value extends string>({ label, value, choices, onChange }: SegmentsProps<Value>) {
  const name = useId()
  return (
    <fieldset className="field">
      <legend>{label}</legend>
      <div className="segments">
        {choices.map(([key, text]) => (
          <label key={key} className="segment">
            <input type="radio" name={name} checked={value === key} onChange={() => onChange(key)} />
            <span>{text}</span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}

interface ChipsProps<Value extends string> {
  label: string
  /** All that are chosen, also of other groups. */
  values: readonly Value[]
  choices: readonly NoInfer<Value>[]
  words: Readonly<Record<NoInfer<Value>, string>>
  onChange: (values: Value[]) => void
}

/** Any number of several. */
export function Chips<Value extends string>({ label, values, choices, words, onChange }: ChipsProps<Value>) {
  const toggle = (value: Value) =>
    onChange(values.includes(value) ? values.filter((other) => other !== value) : [...values, value])
  return (
    <fieldset className="field">
      <legend>{label}</legend>
      <div className="chips">
        {choices.map((value) => (
          <label key={value} className="chip">
            <input type="checkbox" checked={values.includes(value)} onChange={() => toggle(value)} />
            <span>{words[value]}</span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}
