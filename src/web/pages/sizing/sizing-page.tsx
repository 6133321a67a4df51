import { useMemo, useState } from 'react'
import { Link } from 'react-router'
import { type SourceKey, source } from '../../../engine/reference/sources.js'
import { Caution } from '../../shell/caution.js'
import { AnodeFields, WaterFields } from './anode-fields.js'
import { answerOf } from './answer-of.js'
import { DemandFields } from './demand-fields.js'
import { SizingAnswer } from './sizing-answer.js'
import { EXAMPLE, type SizingDraft } from './sizing-draft.js'
import '../haul-out/haul-out.css'
import './sizing.css'

/** What the answer rests on, in the order of the reckoning. */
const SOURCES: readonly SourceKey[] = ['rp-b401', 'study-guide-sheet', 'handbook-range', 'anode-r-note', 'unesco-44']

/** Sizes anodes from surfaces, water, life and shape. All is worked out in the page: nothing is sent or kept. */
export default function SizingPage() {
  const [draft, setDraft] = useState(EXAMPLE)
  const answer = useMemo(() => answerOf(draft), [draft])
  const problems = answer.kind === 'unread' ? answer.problems : NONE
  const change = (part: Partial<SizingDraft>) => setDraft((before) => ({ ...before, ...part }))
  const fields = { draft, problems, change }
  return (
    <div className="page">
      <title>Sizing · Anode Ledger</title>
      <header className="stack-tight">
        <Link className="back" to="/">
          ‹ Fleet
        </Link>
        <h1>Sizing</h1>
        <p className="soft">
          How many anodes a boat or a pier needs for a life, by their mass and by their current. It begins with an
          example: the shaft and propeller of a small sailing boat.
        </p>
      </header>
      <div className="sizing">
        <form className="stack" onSubmit={(event) => event.preventDefault()} noValidate>
          <DemandFields {...fields} />
          <WaterFields {...fields} />
          <AnodeFields {...fields} />
        </form>
        <div className="stack sizing-result">
          <SizingAnswer answer={answer} />
          <Caution grade="mind">
            <strong>A first estimate by common practice.</strong> Current densities of boats are wide: a factor of 3
            either way is usual. Spread the anodes over what they protect, weigh them at each haul-out and let the
            figures of the fleet take over. Local codes and licensed practice come first.
          </Caution>
          <Sources />
        </div>
      </div>
    </div>
  )
}

const NONE: ReadonlyMap<string, string> = new Map()

function Sources() {
  return (
    <details className="fold">
      <summary>Sources: DNV-RP-B401; Dwight, Lloyd and McCoy; PSS-78</summary>
      <ul className="small sources">
        {SOURCES.map(source).map(({ key, title, read }) => (
          <li key={key}>
            {title} <span className="soft">({read})</span>
          </li>
        ))}
      </ul>
    </details>
  )
}
