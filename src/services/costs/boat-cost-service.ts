import type { BoatCosts, CostLine, CostSum } from '../../contract/prices.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { type FittedPart, fittedParts, liftedDays } from '../../db/repositories/paid-events.js'
import { findPriceList, type PriceRow } from '../../db/repositories/prices.js'
import { type CostEvent, type Costs, costsOf, type Price } from '../../engine/costs/boat-costs.js'
import { type NextLift, nextLiftOf } from '../../presentation/next-lift.js'
import type { Actor } from '../actor.js'
import { visibleBoat } from '../fleet/visible.js'
import type { DepletionService } from '../forecasts/depletion-service.js'

const CENTS = 100

interface Event extends CostEvent {
  readonly anode: string | null
}

/** What a boat has cost so far, and what its next lift will. */
export class BoatCostService {
  readonly #db: Db
  readonly #depletion: DepletionService

  constructor(db: Db, depletion: DepletionService) {
    this.#db = db
    this.#depletion = depletion
  }

  /** @throws NotFound */
  async read(actor: Actor, boatName: string): Promise<BoatCosts> {
    const { organisationId } = actor
    const depletion = await this.#depletion.read(actor, boatName)
    const { list, parts, lifts } = await inOrganisation(this.#db, actor, async (tx) => {
      const { id } = await visibleBoat(tx, actor, boatName)
      return {
        list: await findPriceList(tx, organisationId),
        parts: await fittedParts(tx, organisationId, id, depletion.asOf),
        lifts: await liftedDays(tx, organisationId, id, depletion.asOf),
      }
    })
    const prices = (list?.prices ?? []).map(priceOf)
    const next = nextLiftOf(depletion)
    return {
      currency: list?.currency ?? null,
      soFar: sumOf(costsOf(eventsSoFar(parts, lifts), prices)),
      nextLift: next && { ...sumOf(costsOf(eventsOfNext(next), prices)), ...next.lift },
    }
  }
}

function priceOf({ kind, alloy, shape, massG, since, cents }: PriceRow): Price {
  return { what: kind === 'lift' ? { kind } : { kind, alloy, shape, massG }, since, cents }
}

/** The latest first; on one day parts before the lift. */
function eventsSoFar(parts: readonly FittedPart[], lifts: readonly string[]): Event[] {
  const fitted = parts.map(({ on, anode, alloy, shape, massG }) => ({
    on,
    anode,
    what: { kind: 'part' as const, alloy, shape, massG },
  }))
  const lifted = lifts.map((on) => ({ on, anode: null, what: { kind: 'lift' as const } }))
  return [...fitted, ...lifted].toSorted((a, b) => (a.on === b.on ? 0 : a.on < b.on ? 1 : -1))
}

function eventsOfNext({ lift: { on }, parts }: NextLift): Event[] {
  const ordered = parts.flatMap(({ count, ...part }) =>
    Array.from({ length: count }, () => ({ on, anode: null, what: { kind: 'part' as const, ...part } })),
  )
  return [...ordered, { on, anode: null, what: { kind: 'lift' } }]
}

function sumOf({ lines, totalCents, unpriced }: Costs<Event>): CostSum {
  return { total: totalCents / CENTS, unpriced, lines: lines.map(lineOf) }
}

function lineOf({ event: { on, anode, what }, cents }: Costs<Event>['lines'][number]): CostLine {
  const part = what.kind === 'part' ? what : { alloy: null, shape: null, massG: null }
  const { alloy, shape, massG } = part
  return { on, kind: what.kind, anode, alloy, shape, massG, amount: cents === null ? null : cents / CENTS }
}
