import type { CsvRowOf } from '../../../src/contract/csv/index.js'
import { calendarDay } from '../../../src/services/dates/day-numbers.js'
import { type Drive, fitAnode, type TrueAnode } from '../anode-life.js'
import { anodeRow } from '../boat-life.js'
import type { Draws } from '../draws.js'
import type { Itinerary } from '../itinerary.js'
import { drawMethod } from '../setting.js'
import { describe, type Judged, judgeAnode, type KnownAnode, NOTHING_JUDGED, type Yard } from '../yard.js'
import type { EvidenceHabits } from './abnormal-wear.js'
import { codesOf, continuityOf, hung } from './evidence.js'
import { density } from './galvanic-truth.js'
import { judgementSd, LossLedger } from './loss-ledger.js'
import { drawMeter, type Meter, readPotentials } from './potentials.js'
import type { Trouble } from './trouble.js'
import { type TroubledDay, wearTroubledDay } from './troubled-day.js'

export interface TroubledDraw {
  readonly drive: Drive
  readonly itinerary: Itinerary
  readonly yard: Yard
  readonly recordDays: number
  readonly trouble: Trouble
  readonly habits: EvidenceHabits
}

interface Fitted {
  readonly truth: TrueAnode
  readonly known: KnownAnode
}

/** A mass that was typed wrong: no wear, but it looks like some. */
export interface Mistyping {
  readonly boat: string
  readonly anode: string
  readonly at: number
}

/** A mass off by more than this share of itself was typed wrong: residue and scale never come near. */
const TYPED_WRONG = 0.12
const LONGEST_BEFORE_LIFT_DAYS = 25

/** A boat's record with what is wrong in it and the evidence of it, from its arrival to the end of the record. */
export class TroubledLife {
  readonly anodes: CsvRowOf<'anodes.csv'>[] = []
  readonly weighings: CsvRowOf<'weighings.csv'>[] = []
  readonly potentials: CsvRowOf<'potentials.csv'>[] = []
  readonly continuity: CsvRowOf<'continuity.csv'>[] = []
  readonly ledger = new LossLedger()
  readonly mistypings: Mistyping[] = []
  /** Every anode that ever was, for the truth. */
  readonly everFitted: TrueAnode[] = []
  readonly removals = new Map<TrueAnode, number>()
  readonly #draws: Draws
  readonly #evidence: Draws
  readonly #life: TroubledDraw
  readonly #meter: Meter
  readonly #visits: ReadonlySet<number>
  #inPlace: Fitted[] = []
  #count = 0

  /** @param evidence draws of its own, so that what is written down beside masses leaves the masses as they are */
  constructor(draws: Draws, evidence: Draws, life: TroubledDraw) {
    this.#draws = draws
    this.#evidence = evidence
    this.#life = life
    this.#meter = drawMeter(evidence)
    this.#visits = drawVisits(evidence, life)
    this.#record()
  }

  #record(): void {
    const { drive, itinerary, recordDays, trouble } = this.#life
    const { arrivesAt, places } = drive.boat
    this.#inPlace = places.map((_, place) => this.#fit(place, arrivesAt))
    for (let at = arrivesAt; at <= recordDays; at++) {
      const where = itinerary.where[at]!
      const day: TroubledDay = { drive, trouble, ledger: this.ledger, where, at }
      if (at > arrivesAt && itinerary.looks.has(at)) this.#look(at)
      if (at === recordDays) break
      wearTroubledDay(day, this.#truly())
      if (this.#visits.has(at)) this.potentials.push(...this.#readPotentials(day))
    }
    for (const { truth, known } of this.#inPlace) this.#writeDown(truth, known, null)
  }

  #readPotentials(day: TroubledDay) {
    const { habits } = this.#life
    return readPotentials(this.#evidence, day, this.#truly(), {
      meter: this.#meter,
      habits,
      date: this.#date(day.at),
    })
  }

  #truly(): TrueAnode[] {
    return this.#inPlace.map(({ truth }) => truth)
  }

  #fit(place: number, at: number): Fitted {
    const { drive, trouble, recordDays } = this.#life
    const { setting } = drive.sea
    this.#count += 1
    const where = drive.boat.places[place]!
    const purchase = trouble.purchase(where.label, at)
    // Another alloy in the same mould: the volume stays, the mass does not.
    const mould = density(purchase.truly) / density(drive.boat.alloy)
    const bought = { ...where, netMassG: where.netMassG * purchase.massFactor * mould }
    const fitted = fitAnode(this.#draws, {
      place: bought,
      alloy: purchase.declared,
      fittedAt: at,
      days: recordDays + 1,
      name: `${where.label} ${this.#count}`,
      setting,
    })
    const truth: TrueAnode = { ...fitted, contactLost: null }
    this.everFitted.push(truth)
    trouble.fitted(truth, purchase, at)
    return { truth, known: describe(this.#draws, setting, truth) }
  }

  /** The yard looks at every anode, and replaces what its owner would. */
  #look(at: number): void {
    const { drive, trouble } = this.#life
    const { boat } = drive
    const method = drawMethod(this.#draws, drive.sea.setting)
    const anodes = this.#truly()
    this.#inPlace = this.#inPlace.map((fitted, place) => {
      const { truth, known } = fitted
      // Whoever decides has the same eye that was written down; a mass lets him judge well.
      const seen = this.#judge(fitted, method, at)?.wasted_percent ?? null
      const guess = 1 - truth.massG / truth.netMassG + this.#draws.normal(0.04)
      const consumed = seen === null ? guess : seen / 100
      const age = at - truth.fittedAt
      const isDue = consumed >= boat.replacesAt || age >= boat.replacesAfterYears * 365 - 30
      if (!isDue && !trouble.isTimeToBuy(truth.place.label, at)) return fitted
      this.#writeDown(truth, known, at)
      trouble.removed(truth, at, anodes)
      this.removals.set(truth, at)
      return this.#fit(place, at)
    })
  }

  #judge({ truth, known }: Fitted, method: Judged['method'], at: number): Judged | null {
    const { drive, yard, trouble, habits } = this.#life
    const date = this.#date(at)
    const judged = judgeAnode(this.#draws, yard, truth, known, method)
    const condition = codesOf(this.#evidence, habits, trouble, truth, at)
    const underWater = hung(this.#evidence, habits, trouble, truth, yard.resolutionG)
    const boat = drive.boat.name
    this.continuity.push(...continuityOf(this.#evidence, habits, trouble, truth, { boat, date, at }))
    if (judged === null) return null
    const isGone = condition.includes('missing')
    const isHung = judged.method === 'scale' && judged.cleaned === true && !isGone
    const seen: Judged = isGone ? { ...NOTHING_JUDGED, method: 'visual', wasted_percent: 100 } : judged
    this.weighings.push({
      boat,
      anode: truth.name,
      weighed_on: date,
      ...seen,
      condition,
      ...(isHung ? below(underWater, seen.mass_g) : {}),
    })
    if (isTypedWrong(seen, truth)) this.mistypings.push({ boat, anode: truth.name, at })
    this.ledger.judged(truth, at, judgementSd(yard, truth, seen.method))
    return seen
  }

  #writeDown(truth: TrueAnode, known: KnownAnode, removedAt: number | null): void {
    const { boat, sea } = this.#life.drive
    this.anodes.push(anodeRow(boat.name, sea.startDay, truth, known, removedAt))
  }

  #date(at: number): string {
    return calendarDay(this.#life.drive.sea.startDay + at)
  }
}

type UnderWater = Partial<Pick<Judged, 'submerged_mass_g' | 'submerged_in'>>

/** Nothing weighs more in water: such a reading is thrown away by whoever made it. */
function below(underWater: UnderWater, massG: number | null): UnderWater {
  const hungG = underWater.submerged_mass_g
  return hungG != null && massG !== null && hungG < massG ? underWater : {}
}

function isTypedWrong({ mass_g }: Judged, { massG, coreMassG }: TrueAnode): boolean {
  return mass_g !== null && Math.abs(mass_g - massG - coreMassG) > Math.max(20, TYPED_WRONG * (massG + coreMassG))
}

/** The days on which somebody comes with a reference electrode: before a lift, or in the season. */
function drawVisits(draws: Draws, { itinerary, habits, recordDays, drive }: TroubledDraw): Set<number> {
  const days = new Set<number>()
  for (const { at } of itinerary.lifts) {
    const before = at - draws.whole(1, LONGEST_BEFORE_LIFT_DAYS)
    if (draws.chance(habits.potentials)) days.add(before)
  }
  for (let at = drive.boat.arrivesAt; at < recordDays; at += 365) {
    const day = at + draws.whole(0, 365)
    if (draws.chance(habits.potentials / 2)) days.add(day)
  }
  return days
}
