import { useMemo } from 'react'
import type { DepletionView } from '../../../../contract/forecasts.js'
import { type Lift, type NextLift, nextLiftOf } from '../../../../presentation/next-lift.js'
import { sayMass } from '../../../wording/amounts.js'
import { count, sayDay } from '../../../wording/days.js'
import './next-lift.css'

/** What to have at hand when the boat is lifted next. */
export function NextLiftPanel({ depletion }: { depletion: DepletionView }) {
  const order = useMemo(() => nextLiftOf(depletion), [depletion])
  if (order === null) return null
  return (
    <section className="panel stack-tight" aria-labelledby="next-lift">
      <h2 id="next-lift">To order for the next lift</h2>
      <Parts order={order} />
      <p className="soft">{sayRule(order)}</p>
      {order.unknown.length > 0 && (
        <p className="soft">Not told of, for lack of a forecast: {order.unknown.join(', ')}.</p>
      )}
    </section>
  )
}

function Parts({ order: { parts, following } }: { order: NextLift }) {
  if (parts.length === 0) return <p>Nothing: no anode is likely to be due before {sayDay(following.on)}.</p>
  return (
    <ul className="order-parts">
      {parts.map(({ alloy, shape, massG, count: pieces }) => (
        <li key={`${alloy} ${shape} ${massG}`}>
          <strong className="order-count">{pieces} ×</strong>
          <span>
            <strong>{[alloy ?? 'alloy not known', shape].filter(Boolean).join(', ')}</strong>
            <small>{massG === null ? 'mass not known' : `about ${sayMass(massG)} when new`}</small>
          </span>
        </li>
      ))}
    </ul>
  )
}

function sayRule({ lift, following, replace }: NextLift): string {
  const days = `Next lift ${sayLift(lift)}, the following one ${sayLift(following)}.`
  if (replace.length === 0) return days
  const what = replace.length === 1 ? 'This anode is' : `These ${count(replace.length, 'anode')} are`
  return `${days} ${what} due before the latter with more than 1 chance in 10: ${replace.join(', ')}.`
}

function sayLift({ on, planned }: Lift): string {
  return planned ? sayDay(on) : `${sayDay(on)} (none planned: a year is assumed)`
}
