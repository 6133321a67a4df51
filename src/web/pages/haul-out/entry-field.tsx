import { type ReactNode, useId } from 'react'

interface EntryFieldProps {
  label: string
  value: string
  onChange: (value: string) => void
  /** What is wrong with it, and what can be done besides mending. */
  wrong?: string | undefined
  remedy?: ReactNode
  unit?: string
  hint?: string | undefined
  type?: 'number' | 'date' | 'text'
  /** The figure the form is about: drawn large. */
  large?: boolean
}

/** One labelled entry with its unit, its hint and its error. Numbers are typed as text: a comma is fine. */
export function EntryField(props: EntryFieldProps) {
  const { label, value, onChange, wrong, remedy, unit, hint, type = 'text', large } = props
  const id = useId()
  const described = [hint && `${id}-hint`, wrong && `${id}-wrong`].filter(Boolean).join(' ')
  return (
    <div className={large ? 'field entry entry-large' : 'field entry'}>
      <label htmlFor={id}>{label}</label>
      <div className="entry-box">
        <input
          id={id}
          type={type === 'date' ? 'date' : 'text'}
          inputMode={type === 'number' ? 'decimal' : undefined}
          autoComplete="off"
          value={value}
          aria-invalid={wrong !== undefined}
          aria-describedby={described === '' ? undefined : described}
          onChange={(event) => onChange(event.target.value)}
        />
        {unit && (
          <span className="entry-unit" aria-hidden="true">
            {unit}
          </span>
        )}
      </div>
      {hint && (
        <span className="field-hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {wrong !== undefined && (
        <div className="stack-tight">
          <p className="field-wrong" id={`${id}-wrong`}>
            <span>{wrong}</span>
          </p>
          {remedy}
        </div>
      )}
    </div>
  )
}
