import type { FindingRow } from '../../db/repositories/findings.js'
import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import type { Anomaly } from '../../engine/diagnosis/anomaly.js'
import type { Diagnosis } from '../../engine/diagnosis/diagnosis.js'
import { calendarDay } from '../dates/day-numbers.js'
import type { PlaceOfAnode, Trace } from './same-fault.js'

/** A diagnosis with the rows that it is about. */
export interface SeenFault {
  readonly diagnosis: Diagnosis
  readonly boatId: string | null
  readonly anodeId: string | null
  readonly berthId: string | null
  readonly pontoonId: string | null
  /** Names of where it is: see `FindingDetailKept`. */
  readonly berth: string | null
  readonly pontoon: string | null
  /** Middle of its onset; where it was so all along, the first day of its anodes or its boat. */
  readonly sinceOn: string
}

/** What of a fleet's rows tells where a fault is. */
type Places = Pick<FleetRecords, 'boats' | 'berths' | 'pontoons' | 'stays' | 'anodes'>

/** Finds the rows that a fleet's diagnoses are about. */
export function seenFaults(records: Places, diagnoses: readonly Diagnosis[], day: string): SeenFault[] {
  const idOf = {
    boat: idsByName(records.boats),
    berth: idsByName(records.berths),
    pontoon: idsByName(records.pontoons),
  }
  const where = new Whereabouts(records, day)
  return diagnoses.map((diagnosis): SeenFault => {
    const { anomaly } = diagnosis
    const { scope, anodes } = anomaly
    const isOfBoat = scope === 'anode' || scope === 'boat'
    const berth = scope === 'berth' ? anomaly.berth : where.berthOf(anomaly)
    const pontoon = scope === 'pontoon' ? anomaly.pontoon : where.pontoonOf(berth)
    return {
      diagnosis,
      boatId: (isOfBoat && idOf.boat.get(anomaly.boat ?? '')) || null,
      anodeId: scope === 'anode' ? (anodes[0] ?? null) : null,
      berthId: scope === 'berth' ? (idOf.berth.get(berth ?? '') ?? null) : null,
      pontoonId: scope === 'pontoon' ? (idOf.pontoon.get(pontoon ?? '') ?? null) : null,
      berth,
      pontoon,
      sinceOn: anomaly.onset === null ? where.firstDayOf(anomaly) : calendarDay(anomaly.onset.p50),
    }
  })
}

function idsByName(rows: readonly { readonly id: string; readonly name: string }[]): ReadonlyMap<string, string> {
  return new Map(rows.map(({ id, name }) => [name, id]))
}

/** Where boats lie, and since when they and their anodes are known. */
class Whereabouts {
  readonly #day: string
  readonly #boatNames: ReadonlyMap<string, string>
  readonly #pontoons = new Map<string, string>()
  readonly #berths = new Map<string, string>()
  readonly #firstStays = new Map<string, string>()
  readonly #anodes: ReadonlyMap<string, FleetRecords['anodes'][number]['anode']>

  constructor({ boats, berths, pontoons, stays, anodes }: Places, day: string) {
    this.#day = day
    this.#boatNames = new Map(boats.map(({ id, name }) => [id, name]))
    this.#anodes = new Map(anodes.map(({ anode }) => [anode.id, anode]))
    const pontoonNames = new Map(pontoons.map(({ id, name }) => [id, name]))
    const berthNames = new Map(berths.map(({ id, name }) => [id, name]))
    for (const { name, pontoonId } of berths) {
      const pontoon = pontoonId === null ? undefined : pontoonNames.get(pontoonId)
      if (pontoon !== undefined) this.#pontoons.set(name, pontoon)
    }
    // Stays come in order of time, so that the last one counts.
    for (const { boatId, berthId, fromOn } of stays) {
      const boat = this.#boatNames.get(boatId) ?? ''
      if (!this.#firstStays.has(boat)) this.#firstStays.set(boat, fromOn)
      const berth = berthId === null ? undefined : berthNames.get(berthId)
      if (berth !== undefined && fromOn <= day) this.#berths.set(boat, berth)
    }
  }

  /** Where its boat lies, or lay last; of several boats the berth with most of the anodes, the first by name of equals. */
  berthOf({ boat, anodes }: Anomaly): string | null {
    if (boat !== null) return this.#berths.get(boat) ?? null
    const counts = new Map<string, number>()
    for (const key of anodes) {
      const berth = this.#berths.get(this.#boatNames.get(this.#anodes.get(key)?.boatId ?? '') ?? '')
      if (berth !== undefined) counts.set(berth, (counts.get(berth) ?? 0) + 1)
    }
    const [most] = [...counts].sort(([a, inA], [b, inB]) => inB - inA || (a < b ? -1 : 1))
    return most?.[0] ?? null
  }

  pontoonOf(berth: string | null): string | null {
    return berth === null ? null : (this.#pontoons.get(berth) ?? null)
  }

  firstDayOf({ boat, anodes }: Anomaly): string {
    const fitted = anodes.flatMap((key) => this.#anodes.get(key)?.fittedOn ?? [])
    return fitted.sort()[0] ?? this.#firstStays.get(boat ?? '') ?? this.#day
  }
}

/** Names may change, ids do not: the trace of a finding under today's names. */
export function tracesUnderTodaysNames(records: Places, kept: readonly FindingRow[]): ReadonlyMap<FindingRow, Trace> {
  const nameOf = {
    boat: new Map(records.boats.map(({ id, name }) => [id, name])),
    berth: new Map(records.berths.map(({ id, name }) => [id, name])),
    pontoon: new Map(records.pontoons.map(({ id, name }) => [id, name])),
  }
  return new Map(
    kept.map((finding): [FindingRow, Trace] => {
      const { anomaly } = finding.detail.diagnosis
      const boat = nameOf.boat.get(finding.boatId ?? '') ?? anomaly.boat
      const berth = nameOf.berth.get(finding.berthId ?? '') ?? anomaly.berth
      const pontoon = nameOf.pontoon.get(finding.pontoonId ?? '') ?? anomaly.pontoon
      return [finding, { ...anomaly, boat, berth, pontoon }]
    }),
  )
}

/** The position that an anode sits at, of those in the tables. */
export function placesOfAnodes({ anodes }: Pick<FleetRecords, 'anodes'>): PlaceOfAnode {
  const places = new Map(anodes.map(({ anode }) => [anode.id, anode.positionId]))
  return (key) => places.get(key)
}
