import { Link } from 'react-router'
import type { BoatCosts, CostLine, CostSum } from '../../../../contract/prices.js'
import { useBoatCosts } from '../../../api/costs.js'
import { useMe } from '../../../api/session.js'
import { Trouble } from '../../../shell/waiting.js'
import { sayMass } from '../../../wording/amounts.js'
import { sayDay } from '../../../wording/days.js'
import { sayAlloy, sayShape } from '../../../wording/things.js'
import { sayMoney, useCostWords } from '../../prices/cost-words.js'
import './costs.css'

/** What the boat has cost so far, and what its next lift will. */
export function CostsPanel({ boat }: { boat: string }) {
  const t = useCostWords()
  const costs = useBoatCosts(boat)
  const me = useMe()
  if (costs.isError) return <Trouble error={costs.error} retry={costs.refetch} />
  if (costs.data === undefined) return null
  const mayEnter = me.data?.permissions.includes('prices:write') ?? false
  // An owner can do nothing about it.
  if (costs.data.currency === null && !mayEnter) return null
  return (
    <section className="panel stack-tight" aria-labelledby="costs">
      <h2 id="costs">{t('panel.title')}</h2>
      {costs.data.currency === null ? (
        <>
          <p>{t('panel.none')}</p>
          <p>
            <Link className="button" to="/settings/prices">
              {t('panel.enter')}
            </Link>
          </p>
        </>
      ) : (
        <Sums costs={costs.data} currency={costs.data.currency} />
      )}
    </section>
  )
}

function Sums({ costs: { soFar, nextLift }, currency }: { costs: BoatCosts; currency: string }) {
  const t = useCostWords()
  return (
    <div className="cost-sums">
      <Sum name={t('panel.soFar')} sum={soFar} currency={currency} />
      {nextLift !== null && (
        <Sum name={t('panel.next', { day: sayDay(nextLift.on) })} sum={nextLift} currency={currency} />
      )}
    </div>
  )
}

function Sum({ name, sum, currency }: { name: string; sum: CostSum; currency: string }) {
  const t = useCostWords()
  return (
    <div>
      <p className="label">{name}</p>
      <p className="cost-total">{sayMoney(sum.total, currency)}</p>
      {sum.unpriced > 0 && <p className="soft small">{t('panel.unpriced', { count: sum.unpriced })}</p>}
      {sum.lines.length > 0 && (
        <details className="fold">
          <summary>{t('panel.lines')}</summary>
          <ul className="cost-lines">
            {sum.lines.map((line, index) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: lines are read, never moved, and two of a kind are alike
              <li key={index}>
                <span className="soft small">{sayDay(line.on)}</span>
                <span>
                  <bdi>{line.anode}</bdi>{' '}
                  <span className={line.anode ? 'soft small cost-part' : ''}>{sayThing(line, t('panel.lift'))}</span>
                </span>
                <strong className={line.amount === null ? 'soft' : ''}>
                  {line.amount === null ? t('panel.noPrice') : sayMoney(line.amount, currency)}
                </strong>
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  )
}

function sayThing({ kind, alloy, shape, massG }: CostLine, lift: string): string {
  if (kind === 'lift') return lift
  return [massG === null ? null : sayMass(massG), sayAlloy(alloy), sayShape(shape)].filter(Boolean).join(', ')
}
