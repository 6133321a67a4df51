import type { WhatIf, WhatIfAnswer } from '../../contract/what-if.js'
import type { Db } from '../../db/client.js'
import { forWholeOrganisation, inOrganisation } from '../../db/in-organisation.js'
import { dataRevision, type FleetRecords, readFleetRecords } from '../../db/repositories/fleet-records.js'
import type { AnodeForecast } from '../../engine/forecast/forecast-anode.js'
import type { Plan } from '../../engine/forecast/what-if.js'
import type { Actor } from '../actor.js'
import { dayNumber } from '../dates/day-numbers.js'
import { utcDay } from '../dates/not-in-future.js'
import { type FieldError, Invalid, NotComputed } from '../errors.js'
import { visibleBoat } from '../fleet/visible.js'
import type { ComputeForecasts } from '../model/compute-forecasts.js'
import { fitKey } from '../model/fit-key.js'
import { fleetQuestion } from '../model/fleet-question.js'
import { forecastItem } from '../model/forecast-items.js'

/** What planned stays and lifts would do to a boat's dates. */
export class WhatIfService {
  readonly #db: Db
  readonly #engine: ComputeForecasts
  readonly #now: () => Date

  constructor(db: Db, engine: ComputeForecasts, now: () => Date) {
    this.#db = db
    this.#engine = engine
    this.#now = now
  }

  /** @throws NotFound, Invalid naming the stay, NotComputed */
  async ask(actor: Actor, boatName: string, question: WhatIf): Promise<WhatIfAnswer> {
    const { organisationId } = actor
    const boat = await inOrganisation(this.#db, actor, (tx) => visibleBoat(tx, actor, boatName))
    const asOf = utcDay(this.#now())
    const { records, revision } = await inOrganisation(this.#db, forWholeOrganisation(actor), async (tx) => ({
      revision: await dataRevision(tx, organisationId),
      records: await readFleetRecords(tx, organisationId),
    }))
    refuseImpossible(question, records, asOf)
    const key = fitKey(organisationId, asOf, revision)
    const ask = (plan: Plan) => this.#engine.plan({ key, boat: boat.name, plan })
    const plan = planOf(question)
    // A fit is kept for a while; the first question after a change, or after a restart, waits for one.
    if ((await ask(NO_PLAN)) === null) await this.#fit(records, asOf, key)
    const [now, planned] = [await ask(NO_PLAN), await ask(plan)]
    if (now === null || planned === null) throw new NotComputed('the plan', undefined)
    return { boat: boat.name, asOf, anodes: answersOf(records, asOf, now, planned) }
  }

  async #fit(records: FleetRecords, asOf: string, key: string): Promise<void> {
    const day = dayNumber(asOf)
    await this.#engine.compute(fleetQuestion(records, day, day), key).catch((cause: unknown) => {
      throw new NotComputed('the plan', cause)
    })
  }
}

const NO_PLAN: Plan = { stays: [], haulOuts: [] }

function planOf({ stays, haulOuts }: WhatIf): Plan {
  return {
    stays: stays.map(({ fromOn, toOn, berth }) => ({
      from: dayNumber(fromOn),
      to: toOn === null ? null : dayNumber(toOn),
      berth,
    })),
    haulOuts: haulOuts.map((day) => ({ on: dayNumber(day), relaunchedOn: null, planned: true })),
  }
}

function refuseImpossible({ stays, haulOuts }: WhatIf, records: FleetRecords, asOf: string): void {
  const berths = new Set(records.berths.map(({ name }) => name))
  const errors: FieldError[] = []
  for (const [index, { fromOn, toOn, berth }] of stays.entries()) {
    const refuse = (field: string, detail: string) => errors.push({ pointer: `#/stays/${index}/${field}`, detail })
    if (fromOn < asOf) refuse('fromOn', `${fromOn} lies behind: a plan begins on ${asOf} or later`)
    if (toOn !== null && toOn < fromOn) refuse('toOn', `the stay ends on ${toOn}, before it begins on ${fromOn}`)
    const before = stays[index - 1]
    if (before && (before.toOn ?? '9999') > fromOn) refuse('fromOn', 'it begins before the stay before it ends')
    if (berth !== null && !berths.has(berth)) refuse('berth', `there is no berth ${berth}`)
  }
  for (const [index, day] of haulOuts.entries())
    if (day <= asOf)
      errors.push({ pointer: `#/haulOuts/${index}`, detail: `${day} lies behind: plan a lift after ${asOf}` })
  if (errors.length > 0) throw new Invalid(errors)
}

type Forecasts = ReadonlyMap<string, AnodeForecast>

function answersOf(records: FleetRecords, asOf: string, now: Forecasts, then: Forecasts): WhatIfAnswer['anodes'] {
  return [...now].flatMap(([key, forecast]) => {
    const otherwise = then.get(key)
    if (otherwise === undefined) return []
    const item = forecastItem(records, asOf, key, forecast)
    // What is there today does not depend on plans, though the rate it is worked out with does by a hair.
    const { massNow, consumedNow } = item
    const planned = { ...forecastItem(records, asOf, key, otherwise), massNow, consumedNow }
    return { anode: item.anode, position: item.position, now: item, planned }
  })
}
