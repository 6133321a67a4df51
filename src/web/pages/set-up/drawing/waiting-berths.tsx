import { useDrawingWords } from './drawing-words.js'
import type { Waiting } from './harbour.js'
import { BerthButton } from './pontoon-strip.js'
import type { BerthDrag, useBerthDrag } from './use-berth-drag.js'

interface WaitingBerthsProps {
  readonly waiting: readonly Waiting[]
  readonly chosen: string | null
  readonly drag: BerthDrag | null
  readonly handlersOf: ReturnType<typeof useBerthDrag>['handlersOf']
  readonly isDrawn: (pontoon: string) => boolean
  readonly onChoose: (berth: string) => void
  readonly onDrawPontoon: (pontoon: string) => void
}

/** Berths without a place on the drawing: those of a pontoon are drawn with it, or each by itself. */
export function WaitingBerths({ waiting, isDrawn, onDrawPontoon, ...berths }: WaitingBerthsProps) {
  const t = useDrawingWords()
  if (waiting.length === 0) return null
  return (
    <section className="stack" aria-labelledby="berths-waiting">
      <h3 id="berths-waiting">{t('waiting.heading')}</h3>
      {waiting.map(({ pontoon, berths: own }) => (
        <div key={pontoon?.key ?? ''} className="stack-tight">
          <p className="waiting-head">
            <strong>{pontoon === null ? t('waiting.none') : t('pontoon', { name: pontoon.name })}</strong>{' '}
            {t('waiting.count', { count: own.length })}
          </p>
          {pontoon !== null && !isDrawn(pontoon.key) && (
            <p>
              <button type="button" className="button" onClick={() => onDrawPontoon(pontoon.key)}>
                <span>
                  {t('waiting.draw')}
                  <span className="unseen"> {pontoon.name}</span>
                </span>
              </button>
            </p>
          )}
          <ul className="waiting-berths">
            {own.map((berth) => (
              <li key={berth.key}>
                <BerthButton
                  {...berths}
                  berth={berth}
                  isOver={false}
                  where={t('waiting.where', { name: berth.name })}
                />
              </li>
            ))}
          </ul>
        </div>
      ))}
    </section>
  )
}
