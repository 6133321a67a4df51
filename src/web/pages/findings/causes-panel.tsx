import { useId, useState } from 'react'
import type { Finding } from '../../api/findings.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayCause, sayLikelihood } from '../../wording/finding-words.js'
import { BalanceView } from './balance.js'
import { CauseBar } from './cause-bar.js'
import { t } from './findings-words.js'
import './causes.css'

/** Less likely ones are a touch away. Convention. */
const HARDLY_POSSIBLE = 0.01
/** Even where one cause is as good as certain, another to hold it against. */
const FEWEST_SHOWN = 2

/** The causes by probability; the one that is chosen has its evidence laid out beside. */
export function CausesPanel({ causes }: Pick<Finding, 'causes'>) {
  const name = useId()
  const [chosen, setChosen] = useState<string | undefined>(causes[0]?.cause)
  const [isWhole, setWhole] = useState(false)
  const cause = causes.find((each) => each.cause === chosen) ?? causes[0]
  const likely = Math.max(FEWEST_SHOWN, causes.filter(({ probability }) => probability >= HARDLY_POSSIBLE).length)
  const shown = isWhole ? causes : causes.slice(0, likely)
  const rest = causes.slice(likely)
  return (
    <section className="panel causes-panel" aria-labelledby={`${name}-head`}>
      <div className="stack">
        <h2 id={`${name}-head`}>{t('causes.title')}</h2>
        <fieldset className="causes">
          <legend className="soft small">{t('causes.choose')}</legend>
          {shown.map(({ cause: key, probability }) => (
            <label key={key} className="cause">
              <input type="radio" name={name} checked={cause?.cause === key} onChange={() => setChosen(key)} />
              <CauseBox cause={key} probability={probability} />
            </label>
          ))}
        </fieldset>
        {rest.length > 0 && (
          <button
            type="button"
            className="button button-plain causes-more"
            onClick={() => setWhole(!isWhole)}
            aria-expanded={isWhole}
          >
            {isWhole ? t('causes.fewer') : t('causes.more', { number: rest.length, percent: sayPercent(sumOf(rest)) })}
          </button>
        )}
      </div>
      {cause && <BalanceView cause={cause} causes={causes} />}
    </section>
  )
}

function CauseBox({ cause, probability }: Pick<Finding['causes'][number], 'cause' | 'probability'>) {
  return (
    <span className="cause-box">
      <span className="cause-name">{sayCause(cause)}</span>
      <strong>{sayPercent(probability)}</strong>
      <CauseBar probability={probability} />
      <span className="soft small">{sayLikelihood(probability)}</span>
    </span>
  )
}

function sumOf(causes: Finding['causes']): number {
  return causes.reduce((sum, { probability }) => sum + probability, 0)
}
