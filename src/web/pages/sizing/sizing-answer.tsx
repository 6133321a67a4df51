import { lazy, Suspense, useMemo } from 'react'
import type { Criterion } from '../../../engine/sizing/anode-count.js'
import { sayPercent } from '../../wording/amounts.js'
import { count } from '../../wording/days.js'
import type { SizingAnswer as Answer } from './answer-of.js'
import { lifeData } from './life-data.js'
import { CRITERION_WORDS, FORMULA_WORDS, sayAmperes, sayAnswer, sayKg, sayOhm, sayYears } from './sizing-words.js'

const LifePlot = lazy(() => import('./life-plot.js'))

type Sized = Extract<Answer, { kind: 'sized' }>

/** The number of anodes, why, and the life that each number gives. */
export function SizingAnswer({ answer }: { answer: Answer }) {
  return (
    <section className="panel stack sizing-answer" aria-labelledby="answer">
      <h2 id="answer">Number of anodes</h2>
      {answer.kind === 'sized' ? (
        <SizedAnswer answer={answer} />
      ) : (
        <p role="status">{answer.problems.get('form') ?? 'Mend what is marked, and the answer stands here.'}</p>
      )}
    </section>
  )
}

function SizedAnswer({ answer }: { answer: Sized }) {
  const { sizing } = answer
  const data = useMemo(() => lifeData(answer), [answer])
  const sentence = sayAnswer(answer)
  return (
    <>
      <p className="sizing-sentence" role="status">
        {sentence}
      </p>
      <Criteria answer={answer} />
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <LifePlot
          data={data}
          label={`Life against net mass. ${sentence} By mass they last ${sayYears(sizing.lifeYears)}.`}
        />
      </Suspense>
      <ul className="plot-key small" aria-label="Key of the drawing">
        <li className="key-life">life by mass{data.hasBand && ', and with a demand a factor of 3 either way'}</li>
        <li className="key-number">this many anodes, filled where all criteria are met</li>
        <li className="key-chosen">the answer</li>
      </ul>
      <Figures answer={answer} />
      {answer.takesMeans && (
        <p className="soft small">
          Not every surface has a current density of its own for the beginning and the end: its mean stands in.
        </p>
      )}
    </>
  )
}

function Criteria({ answer: { sizing, current } }: { answer: Sized }) {
  const { anode } = sizing
  const parts: Readonly<Record<Criterion, readonly [wanted: string, each: string]>> = {
    mass: [sayKg(sizing.requiredMassKg), sayKg(anode.massKg)],
    'initial-current': [sayAmperes(current.initialA), sayAmperes(anode.initialCurrentA)],
    'final-current': [sayAmperes(current.finalA), sayAmperes(anode.finalCurrentA)],
  }
  return (
    <table className="criteria">
      <caption className="unseen">What each criterion asks for</caption>
      <thead>
        <tr>
          <th scope="col">By</th>
          <th scope="col">Needed</th>
          <th scope="col">One gives</th>
          <th scope="col">Anodes</th>
        </tr>
      </thead>
      <tbody>
        {sizing.criteria.map(({ criterion, number }) => (
          <tr key={criterion} className={criterion === sizing.decidedBy ? 'decides' : undefined}>
            <th scope="row">
              {CRITERION_WORDS[criterion]}
              {criterion === sizing.decidedBy && <span className="tag">decides</span>}
            </th>
            <td>{parts[criterion][0]}</td>
            <td>{parts[criterion][1]}</td>
            <td>{number.toLocaleString('en-GB')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Figures({ answer: { sizing, current, resistivityOhmM } }: { answer: Sized }) {
  const { anode, number, capacityAhPerKg, utilisation, drivingVoltageV } = sizing
  return (
    <dl className="figures">
      <div>
        <dt>Life of {count(number, 'anode')} by mass</dt>
        <dd>
          <strong>{sayYears(sizing.lifeYears)}</strong>
          <small>to {sayPercent(utilisation)} used, the utilisation factor of the shape</small>
        </dd>
      </div>
      <div>
        <dt>Mean current over the life</dt>
        <dd>
          <strong>{sayAmperes(current.meanA)}</strong>
          <small>at {capacityAhPerKg.toLocaleString('en-GB')} A·h/kg</small>
        </dd>
      </div>
      <div>
        <dt>Resistance of one, new</dt>
        <dd>
          <strong>{sayOhm(anode.initial.ohm)}</strong>
          <small>
            {FORMULA_WORDS[anode.initial.formula]}; used up {sayOhm(anode.final.ohm)}
          </small>
        </dd>
      </div>
      <div>
        <dt>Driving voltage</dt>
        <dd>
          <strong>{drivingVoltageV.toFixed(2)} V</strong>
          <small>against protected steel, in water of {Number(resistivityOhmM.toPrecision(3))} Ω·m</small>
        </dd>
      </div>
    </dl>
  )
}
