import type { ForecastItem } from '../../contract/forecasts.js'
import { type PositionKind, positionKindOf, type Water } from '../../contract/vocabulary.js'
import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import type { IssuedForecast } from '../../db/repositories/forecasts.js'
import type { NamedEstimate } from '../../engine/forecast/fleet-forecast.js'
import type { AnodeProspect } from '../../engine/planning/anode-prospect.js'
import type { ObservedAnode } from '../../engine/rates/mass-states.js'
import type { ObservedBoat } from '../../engine/rates/rate-intervals.js'
import { groupBy } from '../model/fleet-history.js'

/** An anode in place that is forecast. */
export interface DeskFleetAnode {
  readonly id: string
  readonly item: ForecastItem
  readonly kind: PositionKind
  readonly shape: string | null
  /** Gross, when new [g]. */
  readonly massG: number | null
  /** For its risk on any day; `null` where what was issued does not tell. */
  readonly prospect: AnodeProspect | null
}

export interface DeskFleetBoat {
  readonly boat: string
  readonly berth: string | null
  readonly pontoon: string | null
  readonly water: Water | null
  readonly observed: ObservedBoat | undefined
  readonly anodes: readonly DeskFleetAnode[]
  /** Those that were replaced, with what was weighed of them. */
  readonly replaced: readonly ObservedAnode[]
  /** In order of the days. */
  readonly haulOuts: readonly { readonly on: string; readonly planned: boolean }[]
}

/** A fleet with all that the desk shows of it, in memory. */
export interface DeskFleet {
  readonly asOf: string
  /** The same as a day number. */
  readonly day: number
  readonly boats: readonly DeskFleetBoat[]
  readonly berthEffects: readonly NamedEstimate[]
  readonly fixed: readonly NamedEstimate[]
  /** By anode id: the boat that it is or was on. */
  readonly boatOfAnode: ReadonlyMap<string, string>
}

/** What a boat's row is put together from. */
export interface FleetParts {
  readonly asOf: string
  readonly records: FleetRecords
  readonly forecasts: readonly IssuedForecast[]
}

/** Puts boats together, one after another. */
export class DeskBoats {
  readonly #asOf: string
  readonly #anodes: ReadonlyMap<string, FleetRecords['anodes']>
  readonly #haulOuts: ReadonlyMap<string, FleetRecords['haulOuts']>
  readonly #issued: ReadonlyMap<string, IssuedForecast>
  readonly #berths: ReadonlyMap<string, { readonly pontoon: string | null; readonly water: Water | null }>
  readonly #lastBerth: ReadonlyMap<string, string>

  constructor({ asOf, records, forecasts }: FleetParts) {
    this.#asOf = asOf
    this.#anodes = groupBy(records.anodes, ({ anode }) => anode.boatId)
    this.#haulOuts = groupBy(records.haulOuts, ({ boatId }) => boatId)
    this.#issued = new Map(forecasts.map((each) => [each.anodeId, each]))
    const pontoons = new Map(records.pontoons.map(({ id, name }) => [id, name]))
    this.#berths = new Map(
      records.berths.map(({ name, pontoonId, water }) => [
        name,
        { pontoon: pontoonId === null ? null : (pontoons.get(pontoonId) ?? null), water },
      ]),
    )
    this.#lastBerth = lastBerths(records, asOf)
  }

  boat({ id, name }: FleetRecords['boats'][number], observed: ObservedBoat | undefined): DeskFleetBoat {
    const berth = this.#lastBerth.get(id) ?? null
    const place = berth === null ? undefined : this.#berths.get(berth)
    const rows = this.#anodes.get(id) ?? []
    return {
      boat: name,
      berth,
      pontoon: place?.pontoon ?? null,
      water: place?.water ?? null,
      observed,
      anodes: rows.flatMap((row) => this.#anode(row, observed) ?? []),
      replaced: (observed?.anodes ?? []).filter(({ history }) => !this.#issued.has(history.key)),
      haulOuts: (this.#haulOuts.get(id) ?? [])
        .map(({ hauledOn, planned }) => ({ on: hauledOn, planned: planned === true && hauledOn > this.#asOf }))
        .filter(({ on, planned }) => planned || on <= this.#asOf),
    }
  }

  #anode({ anode, position }: FleetRecords['anodes'][number], boat: ObservedBoat | undefined): DeskFleetAnode | null {
    const issued = this.#issued.get(anode.id)
    if (issued === undefined) return null
    const known = boat?.anodes.find(({ history }) => history.key === anode.id)
    const last = issued.outlook.path.at(-1)
    const tells = boat !== undefined && known !== undefined && last !== undefined
    return {
      id: anode.id,
      item: issued.item,
      kind: positionKindOf(position.label),
      shape: anode.shape,
      massG: known === undefined ? anode.grossMassG : known.fitted.netMassG + known.fitted.coreMassG,
      prospect: tells ? { boat, anode: known, last, ...issued.outlook } : null,
    }
  }
}

/** By boat: the berth where it lies, or lay last before it was lifted. */
function lastBerths(records: FleetRecords, asOf: string): Map<string, string> {
  const names = new Map(records.berths.map(({ id, name }) => [id, name]))
  const latest = new Map<string, string>()
  // Stays come in order of time, so that the last one counts.
  for (const { boatId, berthId, fromOn } of records.stays) {
    const name = berthId === null ? undefined : names.get(berthId)
    if (name !== undefined && fromOn <= asOf) latest.set(boatId, name)
  }
  return latest
}
