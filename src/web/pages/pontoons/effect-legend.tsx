import { STEP_SYMBOLS, STEPS, sayStep } from './effect-scale.js'

/** What the colours, patterns and signs of the berths mean. */
export function EffectLegend() {
  return (
    <div className="effect-legend small">
      <p className="label" id="effect-legend">
        How anodes waste at a berth, beside the usual one
      </p>
      <ul aria-labelledby="effect-legend">
        {STEPS.map((step) => (
          <li key={step} className={`berth berth-${step}`}>
            <span aria-hidden="true">{STEP_SYMBOLS[step]}</span> {sayStep(step)}
          </li>
        ))}
      </ul>
      <p className="soft">
        Under each figure stands the span that holds 8 of 10. A dashed edge: it leaves open whether the berth is faster
        or slower. A berth with few weighings is drawn towards the usual.
      </p>
    </div>
  )
}
