import type { ReactNode } from 'react'

/** A warning: `stop` where life or the boat is at stake. */
export function Caution({ grade, children }: { grade: 'mind' | 'stop'; children: ReactNode }) {
  return (
    <div className={grade === 'stop' ? 'caution caution-stop' : 'caution'} role="note">
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <path d="M12 2 23 21H1Z" fill="currentColor" />
        <path d="M11 8h2l-.3 7h-1.4zM11 16.500h2v2h-2z" fill="var(--panel)" />
      </svg>
      <div>{children}</div>
    </div>
  )
}
