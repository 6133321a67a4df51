import { useId } from 'react'
import { CONFIRMABLE_CAUSES, type ConfirmableCause } from '../../../contract/vocabulary.js'
import { sayCause } from '../../wording/finding-words.js'

interface CauseSelectProps {
  label: string
  /** What no choice means. */
  none: string
  value: ConfirmableCause | ''
  onChange: (value: ConfirmableCause | '') => void
  wrong: string | undefined
}

/** A cause that somebody found out, another one, or that nothing was wrong. */
export function CauseSelect({ label, none, value, onChange, wrong }: CauseSelectProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        aria-invalid={wrong !== undefined}
        aria-describedby={wrong === undefined ? undefined : `${id}-wrong`}
        onChange={(event) => onChange(CONFIRMABLE_CAUSES.find((cause) => cause === event.target.value) ?? '')}
      >
        <option value="">{none}</option>
        {CONFIRMABLE_CAUSES.map((cause) => (
          <option key={cause} value={cause}>
            {sayCause(cause)}
          </option>
        ))}
      </select>
      {wrong !== undefined && (
        <p className="field-wrong" id={`${id}-wrong`}>
          <span>{wrong}</span>
        </p>
      )}
    </div>
  )
}
