import { lazy, Suspense, useMemo } from 'react'
import type { Criterion } from '../../../engine/sizing/anode-count.js'
import { sayPercent } from '../../wording/amounts.js'
import { sayNumber } from '../../wording/locale.js'
import type { SizingAnswer as Answer } from './answer-of.js'
import { lifeData } from './life-data.js'
import {
  localNumber,
  sayAmperes,
  sayAnswer,
  sayKg,
  sayOhm,
  sayWrong,
  sayYears,
  useSizingWords,
} from './sizing-words.js'

const LifePlot = lazy(() => import('./life-plot.js'))

type Sized = Extract<Answer, { kind: 'sized' }>

/** The number of anodes, why, and the life that each number gives. */
export function SizingAnswer({ answer }: { answer: Answer }) {
  const t = useSizingWords()
  return (
    <section className="panel stack sizing-answer" aria-labelledby="answer">
      <h2 id="answer">{t('answer.heading')}</h2>
      {answer.kind === 'sized' ? (
        <SizedAnswer answer={answer} />
      ) : (
        <p role="status">{sayWrong(answer.problems.get('form'), t) ?? t('answer.mend')}</p>
      )}
    </section>
  )
}

function SizedAnswer({ answer }: { answer: Sized }) {
  const t = useSizingWords()
  const { sizing } = answer
  const data = useMemo(() => lifeData(answer), [answer])
  const sentence = sayAnswer(answer, t)
  return (
    <>
      <p className="sizing-sentence" role="status">
        {sentence}
      </p>
      <Criteria answer={answer} />
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <LifePlot data={data} label={t('plot.label', { answer: sentence, years: sayYears(sizing.lifeYears) })} />
      </Suspense>
      <ul className="plot-key small" aria-label={t('plot.key')}>
        <li className="key-life">{t(data.hasBand ? 'plot.lifeBand' : 'plot.life')}</li>
        <li className="key-number">{t('plot.number')}</li>
        <li className="key-chosen">{t('plot.chosen')}</li>
      </ul>
      <Figures answer={answer} />
      {answer.takesMeans && <p className="soft small">{t('takesMeans')}</p>}
    </>
  )
}

function Criteria({ answer: { sizing, current } }: { answer: Sized }) {
  const t = useSizingWords()
  const { anode } = sizing
  const parts: Readonly<Record<Criterion, readonly [wanted: string, each: string]>> = {
    mass: [sayKg(sizing.requiredMassKg), sayKg(anode.massKg)],
    'initial-current': [sayAmperes(current.initialA), sayAmperes(anode.initialCurrentA)],
    'final-current': [sayAmperes(current.finalA), sayAmperes(anode.finalCurrentA)],
  }
  return (
    <table className="criteria">
      <caption className="unseen">{t('criteria.caption')}</caption>
      <thead>
        <tr>
          <th scope="col">{t('criteria.by')}</th>
          <th scope="col">{t('criteria.needed')}</th>
          <th scope="col">{t('criteria.one')}</th>
          <th scope="col">{t('criteria.anodes')}</th>
        </tr>
      </thead>
      <tbody>
        {sizing.criteria.map(({ criterion, number }) => (
          <tr key={criterion} className={criterion === sizing.decidedBy ? 'decides' : undefined}>
            <th scope="row">
              {t(`criterion.${criterion}`)}
              {criterion === sizing.decidedBy && <span className="tag">{t('criteria.decides')}</span>}
            </th>
            <td>{parts[criterion][0]}</td>
            <td>{parts[criterion][1]}</td>
            <td>{sayNumber(number, 0)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Figures({ answer: { sizing, current, resistivityOhmM } }: { answer: Sized }) {
  const t = useSizingWords()
  const { anode, number, capacityAhPerKg, utilisation, drivingVoltageV } = sizing
  return (
    <dl className="figures">
      <div>
        <dt>{t('figure.life', { count: number })}</dt>
        <dd>
          <strong>{sayYears(sizing.lifeYears)}</strong>
          <small>{t('figure.used', { percent: sayPercent(utilisation) })}</small>
        </dd>
      </div>
      <div>
        <dt>{t('figure.mean')}</dt>
        <dd>
          <strong>{sayAmperes(current.meanA)}</strong>
          <small>{t('figure.capacity', { capacity: localNumber(capacityAhPerKg) })}</small>
        </dd>
      </div>
      <div>
        <dt>{t('figure.resistance')}</dt>
        <dd>
          <strong>{sayOhm(anode.initial.ohm)}</strong>
          <small>
            {t('figure.usedUp', { formula: t(`formula.${anode.initial.formula}`), ohm: sayOhm(anode.final.ohm) })}
          </small>
        </dd>
      </div>
      <div>
        <dt>{t('figure.voltage')}</dt>
        <dd>
          <strong>{sayNumber(drivingVoltageV, 2)} V</strong>
          <small>{t('figure.water', { resistivity: localNumber(resistivityOhmM) })}</small>
        </dd>
      </div>
    </dl>
  )
}
