import { useState } from 'react'
import { Link } from 'react-router'
import type { PontoonDrawing } from '../../../../contract/pontoon-drawing.js'
import { useSaveDrawing } from '../../../api/pontoon-drawing.js'
import { useDrawingWords } from './drawing-words.js'
import { DrawnPontoons } from './drawn-pontoons.js'
import { freeLine, lineBetween, type Point } from './geometry.js'
import { berthsAlong, EMPTY_PONTOON, type PontoonDraft } from './new-pontoon.js'
import { PontoonForm } from './pontoon-form.js'
import { SaveBar } from './save-bar.js'
import { sayStep } from './say-step.js'
import type { Step } from './steps.js'
import { useDraft } from './use-draft.js'
import { YardPlan } from './yard-plan.js'

interface DrawingBoardProps {
  readonly read: PontoonDrawing
  readonly reread: () => Promise<PontoonDrawing | undefined>
}

/** The plan, what is added to it, its pontoons one by one, and what is saved of it. */
export function DrawingBoard({ read, reread }: DrawingBoardProps) {
  const t = useDrawingWords()
  const drawn = useDraft(read)
  const saving = useSaveDrawing()
  const [isDrawing, setDrawing] = useState(false)
  const [chosen, setChosen] = useState<string | null>(null)
  const [draft, setDraft] = useState<PontoonDraft>(EMPTY_PONTOON)
  const [said, setSaid] = useState('')
  const { harbour } = drawn
  const take = (...steps: Step[]) => {
    for (const step of steps) {
      const isDone = drawn.take(step)
      setSaid(isDone ? sayStep(t, harbour, step) : t('said.cannot'))
    }
    saving.reset()
  }
  const onStroke = (shore: Point, head: Point) => {
    const { shoreXM, shoreYM, headingDegrees, reachM } = lineBetween(shore, head)
    const count = String(berthsAlong(reachM, draft.widthM))
    setDraft((before) => ({
      ...before,
      shore: { x: shoreXM, y: shoreYM },
      headingDegrees: String(headingDegrees),
      left: count,
      right: count,
    }))
    setDrawing(false)
    setSaid(t('said.stroke', { metres: Math.round(reachM), count: Number(count) }))
  }
  const onDrawPontoon = (pontoon: string) => {
    const { x, y } = freeLine(harbour, null)
    const line = { shoreXM: x, shoreYM: y, headingDegrees: 0, berthLengthM: null, berthWidthM: null }
    take({ kind: 'draw-pontoon', pontoon, line })
  }
  return (
    <div className="stack">
      <section className="panel stack" aria-label={t('heading')}>
        <h2>{t('heading')}</h2>
        <p className="soft">{t('intro')}</p>
        <p className="chips">
          <button type="button" className="button" aria-pressed={isDrawing} onClick={() => setDrawing(!isDrawing)}>
            {isDrawing && <span aria-hidden="true">✓</span>}
            {t('plan.stroke')}
          </button>
          <Link className="button" to="/pontoons">
            {t('plan.open')}
          </Link>
        </p>
        <p className="field-hint">{t(isDrawing ? 'plan.strokeHint' : 'plan.moveHint')}</p>
        <YardPlan
          harbour={harbour}
          chosen={chosen}
          isDrawing={isDrawing}
          onChoose={setChosen}
          onDraw={onStroke}
          onMove={(pontoon, { x, y }) => take({ kind: 'set-line', pontoon, line: { shoreXM: x, shoreYM: y } })}
        />
        <PontoonForm
          harbour={harbour}
          draft={draft}
          change={(part) => setDraft((before) => ({ ...before, ...part }))}
          nextKey={() => crypto.randomUUID()}
          onAdd={(step) => {
            take(step)
            setDraft({ ...EMPTY_PONTOON, lengthM: draft.lengthM, widthM: draft.widthM })
          }}
        />
      </section>
      <DrawnPontoons harbour={harbour} onSteps={take} onDrawPontoon={onDrawPontoon} />
      <SaveBar drawn={drawn} saving={saving} reread={reread} said={said} onSaid={setSaid} />
    </div>
  )
}
