import { useState } from 'react'
import type { BerthSide } from '../../../../contract/vocabulary.js'
import { BerthPanel } from './berth-panel.js'
import { useDrawingWords } from './drawing-words.js'
import { type Harbour, NATURAL, type Pontoon, whereIs } from './harbour.js'
import { nextName } from './new-pontoon.js'
import { PontoonSettings } from './pontoon-settings.js'
import { PontoonStrip } from './pontoon-strip.js'
import type { Step } from './steps.js'
import { useBerthDrag } from './use-berth-drag.js'
import { WaitingBerths } from './waiting-berths.js'

interface DrawnPontoonsProps {
  readonly harbour: Harbour
  readonly onSteps: (...steps: Step[]) => void
  readonly onDrawPontoon: (pontoon: string) => void
}

/** The pontoons one beneath the other, each with its berths, and the berths that wait for a place. */
export function DrawnPontoons({ harbour, onSteps, onDrawPontoon }: DrawnPontoonsProps) {
  const t = useDrawingWords()
  const [chosen, setChosen] = useState<string | null>(null)
  const { drag, handlersOf } = useBerthDrag((berth, drop) => {
    setChosen(berth)
    onSteps({ kind: 'put-berth', berth, ...drop })
  })
  const found = chosen === null ? null : whereIs(harbour, chosen)
  const berths = {
    chosen,
    drag,
    handlersOf,
    onChoose: (berth: string) => setChosen(berth === chosen ? null : berth),
  }
  const addBerth = (pontoon: Pontoon, side: BerthSide) => {
    const step = newBerthStep(harbour, pontoon, side)
    onSteps(step)
    setChosen(step.key)
  }
  const panel = found && <BerthPanel harbour={harbour} found={found} onStep={onSteps} />
  const isEmpty = harbour.pontoons.length === 0 && harbour.waiting.length === 0
  return (
    <section className="panel stack" aria-labelledby="drawn-pontoons">
      <h2 id="drawn-pontoons">{t('strip.heading')}</h2>
      <p className="soft">{t(isEmpty ? 'strip.none' : 'strip.intro')}</p>
      {harbour.pontoons
        .toSorted((a, b) => NATURAL.compare(a.name, b.name))
        .map((pontoon) => (
          <PontoonStrip key={pontoon.key} pontoon={pontoon} onAddBerth={(side) => addBerth(pontoon, side)} {...berths}>
            {found?.pontoon?.key === pontoon.key && panel}
            <PontoonSettings harbour={harbour} pontoon={pontoon} onSteps={onSteps} />
          </PontoonStrip>
        ))}
      <WaitingBerths
        {...berths}
        waiting={harbour.waiting}
        isDrawn={(key) => harbour.pontoons.some((pontoon) => pontoon.key === key)}
        onDrawPontoon={onDrawPontoon}
      />
      {found?.pontoon === null && panel}
      {drag && (
        <div className="berth-on-its-way" style={{ left: drag.x, top: drag.y }} aria-hidden="true">
          {drag.name}
        </div>
      )}
    </section>
  )
}

/** One more at the end of a side, called after its neighbour as far as that has a number. */
function newBerthStep(harbour: Harbour, pontoon: Pontoon, side: BerthSide): Extract<Step, { kind: 'add-berth' }> {
  const neighbour = pontoon[side].at(-1) ?? pontoon[side === 'left' ? 'right' : 'left'].at(-1)
  const [, before = pontoon.name, number = '0'] = /^(.*?)(\d+)$/.exec(neighbour?.name ?? '') ?? []
  const name = nextName(harbour, before, Number(number) + 1)()
  return { kind: 'add-berth', pontoon: pontoon.key, side, key: crypto.randomUUID(), name }
}
