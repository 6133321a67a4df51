import { useMemo, useState } from 'react'
import { Link } from 'react-router'
import { WATERS } from '../../../contract/vocabulary.js'
import { type SourceKey, source } from '../../../engine/reference/sources.js'
import { Segments } from '../haul-out/choices.js'
import { SourcesFold } from './audit-panels.js'
import { type CoupleDraft, coupleAnswer, EXAMPLE, type MetalDraft, MOST_METALS, withMetal } from './couple-draft.js'
import { sayArea, sayGrades, WATER_WORDS } from './galvanic-words.js'
import { MetalFields } from './metal-fields.js'
import { PairCard } from './pair-card.js'
import type { MarkedMetal } from './series-data.js'
import { SeriesPanel } from './series-panel.js'
import '../haul-out/haul-out.css'
import './galvanic.css'

const SOURCES: readonly SourceKey[] = [
  'aca-flowing-seawater',
  'anodic-index-pages',
  'mil-std-1250-page',
  'area-ratio-note',
]
const SOURCE_ROWS = SOURCES.map((key) => ({ ...source(key) }))
const FEWEST_METALS = 2

/** Any metals and areas against each other. All is worked out in the page: nothing is sent or kept. */
export default function CouplesPage() {
  const [draft, setDraft] = useState(EXAMPLE)
  const answer = useMemo(() => coupleAnswer(draft), [draft])
  const marked = useMemo(() => markedMetals(draft), [draft])
  return (
    <div className="page">
      <title>Metals together · Anode Ledger</title>
      <header className="stack-tight">
        <Link className="back" to="/">
          ‹ Fleet
        </Link>
        <h1>Metals together</h1>
        <p className="soft">
          Which of connected metals in the same water wastes for which, how far they are apart, and what their areas
          make of it. It begins with an example. What is on record of a boat is judged on the boat’s own page.
        </p>
      </header>
      <div className="audit audit-couples">
        <Form draft={draft} problems={answer.problems} setDraft={setDraft} />
        <section className="panel stack couples-pairs" aria-labelledby="pairs">
          <h2 id="pairs">Pairs</h2>
          <p role="status">{sayGrades(answer.pairs.map(({ grade }) => grade))}</p>
          <ul className="pairs">
            {answer.pairs.map((pair, at) => (
              // Two of the same metal may be asked about: nothing but its place tells a pair from the next.
              // biome-ignore lint/suspicious/noArrayIndexKey: see above
              <PairCard key={at} pair={{ ...pair, whenFilmLost: lostOf(pair.whenFilmLost) }} />
            ))}
          </ul>
          <SourcesFold sources={SOURCE_ROWS} />
        </section>
        <SeriesPanel marked={marked} anodes={NO_ANODES} whose="Chosen" />
      </div>
    </div>
  )
}

const NO_ANODES = [] as const

interface FormProps {
  draft: CoupleDraft
  problems: ReadonlyMap<number, string>
  setDraft: (change: (before: CoupleDraft) => CoupleDraft) => void
}

function Form({ draft, problems, setDraft }: FormProps) {
  const setMetals = (change: (metals: readonly MetalDraft[]) => readonly MetalDraft[]) =>
    setDraft((before) => ({ ...before, metals: change(before.metals) }))
  const canRemove = draft.metals.length > FEWEST_METALS
  return (
    <form className="panel stack" onSubmit={(event) => event.preventDefault()} noValidate aria-label="Metals">
      <Segments
        label="Water"
        value={draft.water}
        choices={WATERS.map((water) => [water, WATER_WORDS[water]] as const)}
        onChange={(water) => setDraft((before) => ({ ...before, water }))}
      />
      {draft.metals.map((metal, at) => (
        <MetalFields
          key={metal.id}
          name={`Metal ${at + 1}`}
          draft={metal}
          wrong={problems.get(metal.id)}
          change={(part) => setMetals((all) => all.map((each) => (each.id === metal.id ? { ...each, ...part } : each)))}
          remove={canRemove ? () => setMetals((all) => all.filter(({ id }) => id !== metal.id)) : undefined}
        />
      ))}
      {draft.metals.length < MOST_METALS && (
        <button type="button" className="button" onClick={() => setMetals(withMetal)}>
          Add a metal
        </button>
      )}
    </form>
  )
}

/** As the service answers it: of a pair without its film, its anode's name. */
function lostOf(whenFilmLost: ReturnType<typeof coupleAnswer>['pairs'][number]['whenFilmLost']) {
  return whenFilmLost.map(({ anode, ...lost }) => ({ ...lost, anode: anode.metal }))
}

function markedMetals({ metals }: CoupleDraft): MarkedMetal[] {
  const byMetal = new Map(metals.map(({ metal }) => [metal, metals.filter((each) => each.metal === metal)]))
  return [...byMetal].map(([metal, rows]) => ({
    metal,
    label: rows.map(({ areaCm2 }) => (areaCm2.trim() === '' ? sayArea(null) : `${areaCm2.trim()} cm²`)).join('; '),
    protectedAtV: null,
  }))
}
