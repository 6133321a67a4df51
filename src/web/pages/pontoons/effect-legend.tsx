import { STEP_SYMBOLS, STEPS, sayStep } from './effect-scale.js'
import { t } from './pontoon-words.js'

/** What the colours, patterns and signs of the berths mean. */
export function EffectLegend() {
  return (
    <div className="effect-legend small">
      <p className="label" id="effect-legend">
        {t('legend')}
      </p>
      <ul aria-labelledby="effect-legend">
        {STEPS.map((step) => (
          <li key={step} className={`berth berth-${step}`}>
            <span aria-hidden="true">{STEP_SYMBOLS[step]}</span> {sayStep(step)}
          </li>
        ))}
      </ul>
      <p className="soft">{t('legendText')}</p>
    </div>
  )
}
