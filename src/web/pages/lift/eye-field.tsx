import type { AnodeDraft } from '../haul-out/draft.js'
import { useLiftWords } from './lift-words.js'
import { type DrawnShape, drawnShapeOf, pathOf, wastedOutline } from './wasted-outline.js'

const SHOWN = [0, 25, 50, 75] as const
const STEP = 5

interface EyeFieldProps {
  shape: string | null
  typed: AnodeDraft
  change: (part: Partial<AnodeDraft>) => void
}

/** How much is gone, by the drawing of that shape that comes nearest; five points up or down between two. */
export function EyeField({ shape, typed, change }: EyeFieldProps) {
  const t = useLiftWords()
  const drawn = drawnShapeOf(shape)
  const value = typed.wastedPercent === '' ? null : Number(typed.wastedPercent)
  const set = (percent: number) => change({ wastedPercent: String(Math.min(100, Math.max(0, percent))) })
  return (
    <fieldset className="field eye">
      <legend>{t('anode.eye')}</legend>
      <div className="eye-choices">
        {SHOWN.map((percent) => (
          <label key={percent} className="eye-choice">
            <input type="radio" name="wasted" checked={value === percent} onChange={() => set(percent)} />
            <span>
              <WastedAnode shape={drawn} percent={percent} />
              {percent} %
            </span>
          </label>
        ))}
      </div>
      <div className="eye-steps">
        <button type="button" className="button" disabled={value === null} onClick={() => set((value ?? 0) - STEP)}>
          {t('anode.eyeLess')}
        </button>
        <output className="eye-value">{value === null ? '–' : t('anode.eyeValue', { percent: value })}</output>
        <button type="button" className="button" disabled={value === null} onClick={() => set((value ?? 0) + STEP)}>
          {t('anode.eyeMore')}
        </button>
      </div>
    </fieldset>
  )
}

/** An anode with a share of its metal gone, over its outline when new. */
function WastedAnode({ shape, percent }: { shape: DrawnShape; percent: number }) {
  const { whole, left, core } = wastedOutline(shape, percent / 100)
  return (
    <svg viewBox="4 2 92 60" className="wasted" aria-hidden="true">
      <path className="wasted-whole" d={pathOf(whole)} />
      <path className="wasted-left" d={pathOf(left)} />
      <path className="wasted-core" d={pathOf(core)} />
    </svg>
  )
}
