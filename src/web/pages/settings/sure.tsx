import { type ReactNode, useState } from 'react'

interface SureProps {
  /** The button that asks first, and how it is called where the list is heard. */
  text: string
  label: string
  question: string
  yes: string
  no: string
  isBusy: boolean
  onYes: () => void
  /** What stands in the row beside the button. */
  children: ReactNode
}

/** A row of a list whose button asks before it takes something away. */
export function SureRow({ text, label, question, yes, no, isBusy, onYes, children }: SureProps) {
  const [isAsking, setIsAsking] = useState(false)
  return (
    <li>
      {children}
      {!isAsking && (
        <button type="button" className="button" aria-label={label} onClick={() => setIsAsking(true)}>
          {text}
        </button>
      )}
      {isAsking && (
        <div className="settings-sure stack-tight" role="alert">
          <p>{question}</p>
          <p className="chips">
            <button type="button" className="button button-main" disabled={isBusy} onClick={onYes}>
              {yes}
            </button>
            <button type="button" className="button" onClick={() => setIsAsking(false)}>
              {no}
            </button>
          </p>
        </div>
      )}
    </li>
  )
}
