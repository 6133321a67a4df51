import type { DepletionView } from '../../contract/forecasts.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { type FleetRecords, readFleetRecords } from '../../db/repositories/fleet-records.js'
import type { IssuedForecast } from '../../db/repositories/forecasts.js'
import { photosOfBoat } from '../../db/repositories/photos-of-weighings.js'
import { netMassEstimate } from '../../engine/depletion/mass-observation.js'
import { knownBy } from '../../engine/forecast/anode-outlook.js'
import { depletionCurve } from '../../engine/forecast/depletion-curve.js'
import type { Standout } from '../../engine/forecast/standouts.js'
import type { ObservedAnode } from '../../engine/rates/mass-states.js'
import { type ObservedBoat, observeFleet } from '../../engine/rates/rate-intervals.js'
import type { Actor } from '../actor.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import { visibleBoat } from '../fleet/visible.js'
import { fleetHistoryOf, judgementOf } from '../model/fleet-history.js'
import type { IssuedFleets } from './issued-fleets.js'

type AnodeDepletion = DepletionView['anodes'][number]

/** How far a curve is drawn past today where the threshold is not reached sooner [d]. */
const DRAWN_AHEAD_DAYS = 2 * 365

/** What the depletion plots of a boat are drawn from. */
export class DepletionService {
  readonly #db: Db
  readonly #fleets: IssuedFleets

  constructor(db: Db, fleets: IssuedFleets) {
    this.#db = db
    this.#fleets = fleets
  }

  /** @throws NotFound */
  async read(actor: Actor, boatName: string, asOf?: string): Promise<DepletionView> {
    const boat = await inOrganisation(this.#db, actor, (tx) => visibleBoat(tx, actor, boatName))
    const { organisationId } = actor
    const fleet = await this.#fleets.on(organisationId, asOf)
    const { records, photos } = await inOrganisation(this.#db, actor, async (tx) => ({
      records: await readFleetRecords(tx, organisationId, [boat.id]),
      photos: await photosOfBoat(tx, organisationId, boat.id),
    }))
    const day = dayNumber(fleet.asOf)
    const [observed] = observeFleet(knownBy(fleetHistoryOf(records), day, day), day, fleet.summary.observation)
    const standouts = fleet.summary.standouts ?? []
    const forecasts = new Map(fleet.forecasts.map((each) => [each.anodeId, each]))
    return {
      boat: boat.name,
      asOf: fleet.asOf,
      anodes: records.anodes
        .filter(({ anode }) => (anode.fittedOn ?? '') <= fleet.asOf)
        .map((row) =>
          depletionOf(row, { records, photos, observed, issued: forecasts.get(row.anode.id), day, standouts }),
        ),
    }
  }
}

interface Around {
  readonly records: FleetRecords
  readonly photos: ReadonlyMap<string, readonly string[]>
  readonly observed: ObservedBoat | undefined
  readonly issued: IssuedForecast | undefined
  /** Fits made by older versions have none. */
  readonly standouts: readonly Standout[]
  readonly day: number
}

function depletionOf({ anode, position }: FleetRecords['anodes'][number], around: Around): AnodeDepletion {
  const { observed, issued, records, day } = around
  const known = observed?.anodes.find(({ history }) => history.key === anode.id)
  const asOf = calendarDay(day)
  const weighings = records.weighings.filter(({ anodeId, weighedOn }) => anodeId === anode.id && weighedOn <= asOf)
  return {
    anode: anode.name,
    position: position.label,
    positionSlot: position.slot,
    alloy: anode.alloy,
    shape: anode.shape,
    fittedOn: anode.fittedOn,
    removedOn: anode.removedOn !== null && anode.removedOn <= asOf ? anode.removedOn : null,
    coreMassG: known?.fitted.coreMassG ?? anode.coreMassG,
    fittedMassG: known ? known.fitted.netMassG + known.fitted.coreMassG : anode.grossMassG,
    thresholdMassG: known ? known.fitted.coreMassG + (1 - known.history.threshold) * known.fitted.netMassG : null,
    weighings: known ? weighings.flatMap((weighing) => drawnWeighing(weighing, known, around)) : [],
    curve: observed && known && issued ? curveOf(observed, known, issued, day) : [],
    forecast: issued?.item ?? null,
  }
}

function drawnWeighing(
  weighing: FleetRecords['weighings'][number],
  { fitted }: ObservedAnode,
  { photos, issued, standouts }: Around,
): AnodeDepletion['weighings'] {
  const judgement = judgementOf(weighing)
  const estimate = judgement && netMassEstimate(fitted, judgement)
  if (!estimate) return []
  const { id, weighedOn, method, conditions } = weighing
  const massG = estimate.netMassG + fitted.coreMassG
  const weight = weightOn(weighing.anodeId, dayNumber(weighedOn), issued, standouts)
  const seen = [...(photos.get(id) ?? [])]
  return [{ id, on: weighedOn, method, massG, sdG: estimate.sdG, weight, conditions, photos: seen }]
}

/** From the anode's own forecast; one that was replaced has none, and is known only if it stood out. */
function weightOn(
  anodeId: string,
  on: number,
  issued: IssuedForecast | undefined,
  standouts: readonly Standout[],
): number | null {
  const counted = issued?.outlook.weights?.find((each) => each.on === on)
  const standout = standouts.find((each) => each.key === anodeId && each.on === on)
  return (counted ?? standout)?.weight ?? null
}

function curveOf(boat: ObservedBoat, anode: ObservedAnode, { item, outlook }: IssuedForecast, day: number) {
  const last = outlook.path.at(-1)
  if (last === undefined) return []
  const { p95 } = item.replace
  const until = Math.min(p95 === null ? Infinity : dayNumber(p95), day + DRAWN_AHEAD_DAYS)
  const curve = depletionCurve({ boat, anode, last, ...outlook }, Math.max(until, day))
  return curve.map(({ on, p10, p50, p90 }) => ({ on: calendarDay(on), p10, p50, p90 }))
}
