import type { MassUnit } from '../../../contract/vocabulary.js'
import { sayVerdict, useLiftWords } from './lift-words.js'
import type { Judgement, Verdict } from './verdict.js'

/** Sign of a judgement, told by form as well as by colour. */
export function VerdictMark({ judgement }: { judgement: Judgement }) {
  return (
    <svg className="verdict-mark" data-judgement={judgement} viewBox="0 0 20 20" aria-hidden="true">
      {judgement === 'normal' && (
        <>
          <circle cx="10" cy="10" r="9" fill="currentColor" />
          <path d="m5.500 10 3 3.500 6-7" fill="none" stroke="var(--panel)" strokeWidth="2.400" />
        </>
      )}
      {(judgement === 'below' || judgement === 'far-below') && <path d="M10 18 1 4h18Z" fill="currentColor" />}
      {(judgement === 'above' || judgement === 'far-above') && <path d="M10 2 1 16h18Z" fill="currentColor" />}
    </svg>
  )
}

/** What a reading means, as soon as it is typed. */
export function VerdictLine({
  verdict,
  unit,
  fallback,
}: {
  verdict: Verdict | null
  unit: MassUnit
  /** Said while there is no verdict. */
  fallback: string
}) {
  const t = useLiftWords()
  return (
    <p className="verdict" role="status" data-judgement={verdict?.judgement ?? 'none'}>
      {verdict === null ? (
        fallback
      ) : (
        <>
          <VerdictMark judgement={verdict.judgement} />
          <span>{sayVerdict(verdict, unit, t)}</span>
        </>
      )}
    </p>
  )
}
