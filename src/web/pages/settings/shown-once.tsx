import { type ReactNode, useState } from 'react'

interface ShownOnceProps {
  /** What must be copied now, for it is shown never again. */
  secret: string
  text: string
  words: { readonly copy: string; readonly copied: string; readonly done: string }
  onDone: () => void
  /** What else may be done with it. */
  children?: ReactNode
}

/** Something that is shown this once: a key, a secret, a link. */
export function ShownOnce({ secret, text, words, onDone, children }: ShownOnceProps) {
  const [isCopied, setIsCopied] = useState(false)
  // Without a secure connection browsers let nothing be copied by a button: then it is marked and copied by hand.
  const canCopy = 'clipboard' in navigator
  return (
    <div className="settings-secret stack-tight" role="alert">
      <p>{text}</p>
      <p>
        <code>{secret}</code>
      </p>
      <p className="chips">
        {canCopy && (
          <button
            type="button"
            className="button button-main"
            onClick={() => navigator.clipboard.writeText(secret).then(() => setIsCopied(true))}
          >
            {isCopied ? words.copied : words.copy}
          </button>
        )}
        {children}
        <button type="button" className="button" onClick={onDone}>
          {words.done}
        </button>
      </p>
    </div>
  )
}
