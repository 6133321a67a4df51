import type { PontoonPlan } from '../../contract/pontoons.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { type FindingRow, findingsOf } from '../../db/repositories/findings.js'
import { newestFit } from '../../db/repositories/forecasts.js'
import { type BerthOnPlan, berthsOnPlan, boatsAtBerths } from '../../db/repositories/pontoons.js'
import type { NamedEstimate } from '../../engine/forecast/fleet-forecast.js'
import type { Actor } from '../actor.js'
import { utcDay } from '../dates/not-in-future.js'
import { isSettled } from './reconcile.js'

type PlannedPontoon = PontoonPlan['pontoons'][number]
type PlannedBerth = PlannedPontoon['berths'][number]
type PlannedFinding = PlannedBerth['findings'][number]

/** The berths by pontoon, with what the last fit and the findings say of each. */
export class PontoonPlanService {
  readonly #db: Db
  readonly #now: () => Date

  constructor(db: Db, now: () => Date) {
    this.#db = db
    this.#now = now
  }

  read(actor: Actor): Promise<PontoonPlan> {
    const { organisationId } = actor
    return inOrganisation(this.#db, actor, async (tx) => {
      const fit = await newestFit(tx, organisationId)
      const boats = await boatsAtBerths(tx, organisationId, utcDay(this.#now()))
      const kept = await findingsOf(tx, organisationId)
      const planner = new Planner(fit?.summary.berthEffects ?? [], boats, kept)
      return { asOf: fit?.asOf ?? null, pontoons: planner.plan(await berthsOnPlan(tx, organisationId)) }
    })
  }
}

/** "B2" before "B10". */
const byName = new Intl.Collator('en', { numeric: true }).compare

class Planner {
  readonly #effects: ReadonlyMap<string, NamedEstimate>
  readonly #boats: readonly { readonly boat: string; readonly berth: string }[]
  readonly #findings: readonly FindingRow[]

  constructor(
    effects: readonly NamedEstimate[],
    boats: readonly { readonly boat: string; readonly berth: string }[],
    findings: readonly FindingRow[],
  ) {
    this.#effects = new Map(effects.map((effect) => [effect.name, effect]))
    this.#boats = boats
    this.#findings = findings.filter((finding) => !isSettled(finding))
  }

  plan(berths: readonly BerthOnPlan[]): PlannedPontoon[] {
    const names = [...new Set(berths.map(({ pontoon }) => pontoon))]
    // Berths on no pontoon come last.
    names.sort((a, b) => (a === null || b === null ? Number(a === null) - Number(b === null) : byName(a, b)))
    return names.map((pontoon) => ({
      pontoon,
      findings: this.#findingsWhere(({ scope, detail }) => scope === 'pontoon' && detail.pontoon === pontoon),
      berths: berths
        .filter((berth) => berth.pontoon === pontoon)
        .sort((a, b) => byName(a.berth, b.berth))
        .map((berth) => this.#berth(berth)),
    }))
  }

  #berth({ pontoon: _, ...berth }: BerthOnPlan): PlannedBerth {
    const effect = this.#effects.get(berth.berth)
    return {
      ...berth,
      effect: effect === undefined ? null : { mean: effect.estimate, se: effect.se },
      boats: this.#boats.filter((each) => each.berth === berth.berth).map(({ boat }) => boat),
      findings: this.#findingsWhere(({ scope, detail }) => scope !== 'pontoon' && detail.berth === berth.berth),
    }
  }

  #findingsWhere(isMeant: (finding: FindingRow) => boolean): PlannedFinding[] {
    return this.#findings.filter(isMeant).map(({ id, direction, state, detail }) => ({
      id,
      direction,
      state,
      cause: detail.diagnosis.causes[0]?.cause ?? null,
    }))
  }
}
