import { useMemo, useState } from 'react'
import { Link } from 'react-router'
import { type SourceKey, source } from '../../../engine/reference/sources.js'
import { Caution } from '../../shell/caution.js'
import { AnodeFields, WaterFields } from './anode-fields.js'
import { answerOf, type Wrong } from './answer-of.js'
import { DemandFields } from './demand-fields.js'
import { SizingAnswer } from './sizing-answer.js'
import { EXAMPLE, type SizingDraft } from './sizing-draft.js'
import { useSizingWords } from './sizing-words.js'
import '../haul-out/haul-out.css'
import './sizing.css'

/** What the answer rests on, in the order of the reckoning. */
const SOURCES: readonly SourceKey[] = ['rp-b401', 'study-guide-sheet', 'handbook-range', 'anode-r-note', 'unesco-44']

/** Sizes anodes from surfaces, water, life and shape. All is worked out in the page: nothing is sent or kept. */
export default function SizingPage() {
  const t = useSizingWords()
  const [draft, setDraft] = useState(EXAMPLE)
  const answer = useMemo(() => answerOf(draft), [draft])
  const problems = answer.kind === 'unread' ? answer.problems : NONE
  const change = (part: Partial<SizingDraft>) => setDraft((before) => ({ ...before, ...part }))
  const fields = { draft, problems, change }
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
      <div className="sizing">
        <form className="stack" onSubmit={(event) => event.preventDefault()} noValidate>
          <DemandFields {...fields} />
          <WaterFields {...fields} />
          <AnodeFields {...fields} />
        </form>
        <div className="stack sizing-result">
          <SizingAnswer answer={answer} />
          <Caution grade="mind">
            <strong>{t('estimate.lead')}</strong> {t('estimate.text')}
          </Caution>
          <Sources />
        </div>
      </div>
    </div>
  )
}

const NONE: ReadonlyMap<string, Wrong> = new Map()

function Sources() {
  const t = useSizingWords()
  return (
    <details className="fold">
      <summary>{t('sources')}: DNV-RP-B401; Dwight, Lloyd and McCoy; PSS-78</summary>
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
