import { type ReactNode, useId } from 'react'
import { BERTH_SIDES, type BerthSide } from '../../../../contract/vocabulary.js'
import { useDrawingWords } from './drawing-words.js'
import type { Berth, Pontoon } from './harbour.js'
import { type BerthDrag, dropAttributes, type useBerthDrag } from './use-berth-drag.js'

interface BerthsProps {
  readonly chosen: string | null
  readonly drag: BerthDrag | null
  readonly handlersOf: ReturnType<typeof useBerthDrag>['handlersOf']
  readonly onChoose: (berth: string) => void
}

interface PontoonStripProps extends BerthsProps {
  readonly pontoon: Pontoon
  readonly onAddBerth: (side: BerthSide) => void
  /** What is done to the pontoon, and to the berth of it that is chosen. */
  readonly children: ReactNode
}

/** A pontoon with its berths in order on both sides, the shore at its beginning. */
export function PontoonStrip({ pontoon, onAddBerth, children, ...berths }: PontoonStripProps) {
  const t = useDrawingWords()
  const id = useId()
  return (
    <section className="drawn-pontoon stack" aria-labelledby={id}>
      <h3 id={id}>{t('pontoon', { name: pontoon.name })}</h3>
      <div className="strip">
        <p className="strip-shore small">{t('strip.shore')}</p>
        {BERTH_SIDES.map((side) => (
          <div key={side} className={`strip-side strip-${side}`}>
            <p className="label" id={`${id}-${side}`}>
              {t(`side.${side}`)}
            </p>
            <ol aria-labelledby={`${id} ${id}-${side}`}>
              {pontoon[side].map((berth, index) => (
                <li key={berth.key} {...dropAttributes({ pontoon: pontoon.key, side, index })}>
                  <BerthButton
                    {...berths}
                    berth={berth}
                    isOver={isOver(berths.drag, pontoon.key, side, index)}
                    where={t('strip.where', { name: berth.name, side: t(`side.${side}`), place: index + 1 })}
                  />
                </li>
              ))}
              <li {...dropAttributes({ pontoon: pontoon.key, side, index: pontoon[side].length })}>
                <button
                  type="button"
                  className={
                    isOver(berths.drag, pontoon.key, side, pontoon[side].length)
                      ? 'strip-berth strip-add strip-over'
                      : 'strip-berth strip-add'
                  }
                  aria-label={t('strip.add', { pontoon: pontoon.name, side: t(`side.${side}`) })}
                  onClick={() => onAddBerth(side)}
                >
                  <span aria-hidden="true">+</span>
                </button>
              </li>
            </ol>
          </div>
        ))}
        <div className="strip-walkway" aria-hidden="true" />
      </div>
      {children}
    </section>
  )
}

function isOver(drag: BerthDrag | null, pontoon: string, side: BerthSide, index: number): boolean {
  const over = drag?.over
  return over?.pontoon === pontoon && over.side === side && over.index === index
}

interface BerthButtonProps extends BerthsProps {
  readonly berth: Berth
  readonly isOver: boolean
  /** Its name and its place, for who does not see it. */
  readonly where: string
}

export function BerthButton({ berth, isOver: over, where, chosen, drag, handlersOf, onChoose }: BerthButtonProps) {
  const isChosen = chosen === berth.key
  const look = [
    'strip-berth',
    isChosen && 'strip-chosen',
    over && 'strip-over',
    drag?.berth === berth.key && 'strip-lifted',
  ]
  return (
    <button
      type="button"
      className={look.filter(Boolean).join(' ')}
      aria-pressed={isChosen}
      aria-label={where}
      onClick={() => onChoose(berth.key)}
      {...handlersOf(berth.key, berth.name)}
    >
      {isChosen && <span aria-hidden="true">✓ </span>}
      {berth.name}
    </button>
  )
}
