import { useMemo, useState } from 'react'
import { Link } from 'react-router'
import { WATERS } from '../../../contract/vocabulary.js'
import type { FilmedCouple } from '../../../engine/galvanic/couple.js'
import { type SourceKey, source } from '../../../engine/reference/sources.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { sayReasons } from '../../wording/reasons.js'
import { Segments } from '../haul-out/choices.js'
import { SourcesFold } from './audit-panels.js'
import { type CoupleDraft, coupleAnswer, EXAMPLE, type MetalDraft, MOST_METALS, withMetal } from './couple-draft.js'
import { sayArea, sayGrades, t } from './galvanic-words.js'
import { MetalFields } from './metal-fields.js'
import { PairCard, type ShownPair } from './pair-card.js'
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
  useAreas('galvanic', 'words')
  const [draft, setDraft] = useState(EXAMPLE)
  const answer = useMemo(() => coupleAnswer(draft), [draft])
  const marked = useMemo(() => markedMetals(draft), [draft])
  return (
    <div className="page">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <header className="stack-tight">
        <Link className="back" to="/">
          ‹ {t('back')}
        </Link>
        <h1>{t('title')}</h1>
        <p className="soft">{t('about')}</p>
      </header>
      <div className="audit audit-couples">
        <Form draft={draft} problems={answer.problems} setDraft={setDraft} />
        <section className="panel stack couples-pairs" aria-labelledby="pairs">
          <h2 id="pairs">{t('pairs.short')}</h2>
          <p role="status">{sayGrades(answer.pairs.map(({ grade }) => grade))}</p>
          <ul className="pairs">
            {answer.pairs.map((pair, at) => (
              // Two of the same metal may be asked about: nothing but its place tells a pair from the next.
              // biome-ignore lint/suspicious/noArrayIndexKey: see above
              <PairCard key={at} pair={shownPair(pair)} />
            ))}
          </ul>
          <SourcesFold sources={SOURCE_ROWS} />
        </section>
        <SeriesPanel marked={marked} anodes={NO_ANODES} whose={t('whose.chosen')} />
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
    <form className="panel stack" onSubmit={(event) => event.preventDefault()} noValidate aria-label={t('form.label')}>
      <Segments
        label={t('form.water')}
        value={draft.water}
        choices={WATERS.map((water) => [water, t(`water.${water}`)] as const)}
        onChange={(water) => setDraft((before) => ({ ...before, water }))}
      />
      {draft.metals.map((metal, at) => (
        <MetalFields
          key={metal.id}
          number={at + 1}
          draft={metal}
          wrong={problems.get(metal.id)}
          change={(part) => setMetals((all) => all.map((each) => (each.id === metal.id ? { ...each, ...part } : each)))}
          remove={canRemove ? () => setMetals((all) => all.filter(({ id }) => id !== metal.id)) : undefined}
        />
      ))}
      {draft.metals.length < MOST_METALS && (
        <button type="button" className="button" onClick={() => setMetals(withMetal)}>
          {t('form.add')}
        </button>
      )}
    </form>
  )
}

/** As the service answers it: its reason in words, and of a pair without its film, its anode's name. */
function shownPair({ reasons, whenFilmLost, ...pair }: FilmedCouple): ShownPair {
  const lost = whenFilmLost.map(({ anode, ...each }) => ({ ...each, anode: anode.metal }))
  return { ...pair, said: sayReasons(reasons), whenFilmLost: lost }
}

function markedMetals({ metals }: CoupleDraft): MarkedMetal[] {
  const byMetal = new Map(metals.map(({ metal }) => [metal, metals.filter((each) => each.metal === metal)]))
  return [...byMetal].map(([metal, rows]) => ({
    metal,
    label: rows.map(({ areaCm2 }) => (areaCm2.trim() === '' ? sayArea(null) : `${areaCm2.trim()} cm²`)).join('; '),
    protectedAtV: null,
  }))
}
