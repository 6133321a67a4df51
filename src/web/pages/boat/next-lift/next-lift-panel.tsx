import { useMemo } from 'react'
import type { DepletionView } from '../../../../contract/forecasts.js'
import { type Lift, type NextLift, nextLiftOf } from '../../../../presentation/next-lift.js'
import { sayMass } from '../../../wording/amounts.js'
import { sayDay } from '../../../wording/days.js'
import { sayAlloy, sayShape } from '../../../wording/things.js'
import { t } from '../boat-words.js'
import './next-lift.css'

/** What to have at hand when the boat is lifted next. */
export function NextLiftPanel({ depletion }: { depletion: DepletionView }) {
  const order = useMemo(() => nextLiftOf(depletion), [depletion])
  if (order === null) return null
  return (
    <section className="panel stack-tight" aria-labelledby="next-lift">
      <h2 id="next-lift">{t('order.title')}</h2>
      <Parts order={order} />
      <p className="soft">{sayRule(order)}</p>
      {order.unknown.length > 0 && <p className="soft">{t('order.unknown', { anodes: order.unknown.join(', ') })}</p>}
    </section>
  )
}

function Parts({ order: { parts, following } }: { order: NextLift }) {
  if (parts.length === 0) return <p>{t('order.none', { day: sayDay(following.on) })}</p>
  return (
    <ul className="order-parts">
      {parts.map(({ alloy, shape, massG, count: pieces }) => (
        <li key={`${alloy} ${shape} ${massG}`}>
          <strong className="order-count">{pieces} ×</strong>
          <span>
            <strong>{[sayAlloy(alloy) ?? t('order.noAlloy'), sayShape(shape)].filter(Boolean).join(', ')}</strong>
            <small>{massG === null ? t('order.noMass') : t('order.mass', { mass: sayMass(massG) })}</small>
          </span>
        </li>
      ))}
    </ul>
  )
}

function sayRule({ lift, following, replace }: NextLift): string {
  const days = t('order.days', { lift: sayLift(lift), following: sayLift(following) })
  if (replace.length === 0) return days
  return `${days} ${t('order.what', { count: replace.length, anodes: replace.join(', ') })}`
}

function sayLift({ on, planned }: Lift): string {
  return planned ? sayDay(on) : t('order.assumed', { day: sayDay(on) })
}
