import type { CsvRowOf } from '../../src/contract/csv/index.js'
import type { AnodeAlloy } from '../../src/engine/reference/vocabulary.js'
import { calendarDay } from '../../src/services/dates/day-numbers.js'
import { crossingsAlong, type Drive, fitAnode, homeOn, type TrueAnode, wearOneDay } from './anode-life.js'
import type { Draws } from './draws.js'
import type { Itinerary, Whereabouts } from './itinerary.js'
import { drawMethod } from './setting.js'
import { describe, judgeAnode, type KnownAnode, type Yard } from './yard.js'

/** The truth of an anode in place on the last day of the record. Days are day numbers; `null` beyond the simulation. */
export interface AnodeTruth {
  readonly boat: string
  readonly anode: string
  readonly alloy: AnodeAlloy
  readonly shape: string
  readonly netMassG: number
  readonly coreMassG: number
  readonly massNowG: number
  /** Along its berth of the day, on and on: what a forecast takes for granted. */
  readonly crossesOn: number | null
  /** The same if from now on nothing went but its usual way: no shock, no fault, no wandering of the boat's current. */
  readonly calmlyCrossesOn: number | null
  /** Along where the boat truly goes. */
  readonly trulyCrossesOn: number | null
  readonly isWeighed: boolean
  readonly isFaulty: boolean
}

export interface LivedLife {
  readonly anodes: CsvRowOf<'anodes.csv'>[]
  readonly weighings: CsvRowOf<'weighings.csv'>[]
  readonly truths: AnodeTruth[]
}

export interface LifeDraw {
  readonly drive: Drive
  readonly itinerary: Itinerary
  readonly yard: Yard
  readonly recordDays: number
  readonly days: number
}

interface Fitted {
  readonly truth: TrueAnode
  readonly known: KnownAnode
  isWeighed: boolean
}

/** A boat from its arrival to the end of the record, and on to where its anodes cross. */
export function liveLife(draws: Draws, life: LifeDraw): LivedLife {
  const boatLife = new BoatLife(draws, life)
  boatLife.record()
  return { anodes: boatLife.anodes, weighings: boatLife.weighings, truths: boatLife.truths() }
}

class BoatLife {
  readonly anodes: CsvRowOf<'anodes.csv'>[] = []
  readonly weighings: CsvRowOf<'weighings.csv'>[] = []
  readonly #draws: Draws
  readonly #life: LifeDraw
  #inPlace: Fitted[] = []
  #count = 0

  constructor(draws: Draws, life: LifeDraw) {
    this.#draws = draws
    this.#life = life
  }

  record(): void {
    const { drive, itinerary, recordDays } = this.#life
    const { arrivesAt, places } = drive.boat
    this.#inPlace = places.map((_, place) => this.#fit(place, arrivesAt))
    for (let at = arrivesAt; at <= recordDays; at++) {
      if (at > arrivesAt && itinerary.looks.has(at)) this.#look(at)
      if (at < recordDays) wearOneDay(drive, this.#truly(), itinerary.where[at]!, at)
    }
    for (const { truth, known } of this.#inPlace) this.#writeDown(truth, known, null)
  }

  truths(): AnodeTruth[] {
    const { drive, itinerary, recordDays, days } = this.#life
    const { sea, boat, stray } = drive
    const home = homeOn(itinerary, recordDays)
    const along = (where: (at: number) => Whereabouts) => crossingsAlong(drive, this.#truly(), where, recordDays, days)
    const assumed = along(() => home)
    const calm: Drive = { sea, boat: { ...boat, wandering: new Float64Array(days) }, stray: null }
    const unshocked = this.#truly().map((anode) => ({ ...anode, shocks: new Float64Array(days) }))
    const calmly = crossingsAlong(calm, unshocked, () => home, recordDays, days)
    const truly = along((at) => itinerary.where[at]!)
    const dayOf = (at: number | null | undefined) => (at == null ? null : sea.startDay + at)
    return this.#inPlace.map(({ truth, isWeighed }) => ({
      boat: boat.name,
      anode: truth.name,
      alloy: truth.alloy,
      shape: truth.place.shape,
      netMassG: truth.netMassG,
      coreMassG: truth.coreMassG,
      massNowG: truth.massG,
      crossesOn: dayOf(assumed.get(truth.name)),
      calmlyCrossesOn: dayOf(calmly.get(truth.name)),
      trulyCrossesOn: dayOf(truly.get(truth.name)),
      isWeighed,
      isFaulty: truth.contactLost !== null || stray !== null,
    }))
  }

  #truly(): TrueAnode[] {
    return this.#inPlace.map(({ truth }) => truth)
  }

  #fit(place: number, at: number): Fitted {
    const { drive, days } = this.#life
    const { setting } = drive.sea
    this.#count += 1
    const where = drive.boat.places[place]!
    const name = `${where.label} ${this.#count}`
    const alloy = this.#draws.chance(0.93) ? drive.boat.alloy : this.#draws.pick(['zinc', 'aluminium'] as const)
    const truth = fitAnode(this.#draws, { place: where, alloy, fittedAt: at, days, name, setting })
    return { truth, known: describe(this.#draws, setting, truth), isWeighed: false }
  }

  /** The yard looks at every anode, and replaces what its owner would. */
  #look(at: number): void {
    const { drive, yard } = this.#life
    const { boat } = drive
    const method = drawMethod(this.#draws, drive.sea.setting)
    this.#inPlace = this.#inPlace.map((fitted, place) => {
      const { truth, known } = fitted
      const judged = judgeAnode(this.#draws, yard, truth, known, method)
      if (judged !== null) {
        this.weighings.push({ boat: boat.name, anode: truth.name, weighed_on: this.#date(at), ...judged })
        fitted.isWeighed = true
      }
      // Whoever decides has the same eye that was written down; a mass lets him judge well.
      const guess = 1 - truth.massG / truth.netMassG + this.#draws.normal(0.04)
      const seen = judged?.wasted_percent ?? null
      const consumed = seen === null ? guess : seen / 100
      const age = at - truth.fittedAt
      if (consumed < boat.replacesAt && age < boat.replacesAfterYears * 365 - 30) return fitted
      this.#writeDown(truth, known, at)
      return this.#fit(place, at)
    })
  }

  #writeDown(truth: TrueAnode, known: KnownAnode, removedAt: number | null): void {
    const { boat, sea } = this.#life.drive
    this.anodes.push(anodeRow(boat.name, sea.startDay, truth, known, removedAt))
  }

  #date(at: number): string {
    return calendarDay(this.#life.drive.sea.startDay + at)
  }
}

/** What is written down of an anode; days since `startDay`. */
export function anodeRow(
  boat: string,
  startDay: number,
  truth: TrueAnode,
  known: KnownAnode,
  removedAt: number | null,
): CsvRowOf<'anodes.csv'> {
  return {
    boat,
    anode: truth.name,
    position: truth.place.label,
    alloy: truth.alloy,
    shape: truth.place.shape,
    fitted_on: calendarDay(startDay + truth.fittedAt),
    removed_on: removedAt === null ? null : calendarDay(startDay + removedAt),
    gross_mass_g: known.grossMassG,
    core_mass_g: known.coreMassG,
    length_mm: known.lengthMm,
    width_mm: known.widthMm,
    height_mm: known.heightMm,
    bonded: true,
  }
}
