import type { Judgement } from './galvanic-words.js'

/** A judgement as a tag: its sign, its word, and a colour that only repeats them. */
export function JudgementTag({ judgement: { word, sign, tone } }: { judgement: Judgement }) {
  return (
    <span className={`tag judged-${tone}`}>
      <span aria-hidden="true">{sign}</span> {word}
    </span>
  )
}
