import type { Drive } from '../anode-life.js'
import { makeBoat } from '../boats.js'
import { Draws } from '../draws.js'
import { type Itinerary, makeItinerary } from '../itinerary.js'
import { COASTS, makeSea, withBerths } from '../sea.js'
import {
  add,
  BOATS_A_BERTH,
  berthRow,
  boatRow,
  COAST_LOG_SD,
  type FleetDraw,
  type FleetRows,
  fittingRows,
  liftRows,
  START_DAY,
  stayRows,
} from '../simulated-fleet.js'
import { makeYard } from '../yard.js'
import { ABNORMAL_WEAR, type AbnormalWear, type AbnormalWearName } from './abnormal-wear.js'
import { drawFault, drawGroupFaults } from './draw-faults.js'
import type { Fault, FaultTruth } from './fault.js'
import { type Sufferer, shortLived, truthOf } from './fault-truth.js'
import { Trouble } from './trouble.js'
import { type Mistyping, TroubledLife } from './troubled-life.js'

export interface AbnormalFleetDraw extends Omit<FleetDraw, 'marinas' | 'setting'> {
  readonly wear: AbnormalWearName
}

/** A fleet with physical faults in it, as its marina wrote it down, and what is truly wrong. */
export interface AbnormalFleet {
  readonly rows: FleetRows
  readonly asOf: number
  readonly faults: readonly FaultTruth[]
  /** Masses typed wrong, by anode: what they look like is no fault. */
  readonly mistyped: ReadonlySet<string>
  /** Anodes that were gone within about a year: too small for their boats by nature. */
  readonly shortLived: ReadonlySet<string>
  /** Years in place, of all anodes together. */
  readonly anodeYears: number
}

const DAYS_PER_YEAR = 365
const BOATS_START = 1009
const FAULTS_START = 4001

/**
 * A fleet drawn as `simulateFleet` draws it, but with moves among berths of one water only and none of its unwritten faults: what is
 * wrong is in `faults`, acts on currents and masses day by day, and shows in readings and codes as often as a yard writes them down.
 */
export function simulateAbnormalFleet(draw: AbnormalFleetDraw): AbnormalFleet {
  const draws = new Draws(draw.start)
  const recordDays = draw.years * DAYS_PER_YEAR + draws.whole(0, DAYS_PER_YEAR)
  const { setting } = ABNORMAL_WEAR[draw.wear]
  const days = recordDays + 1
  const waters = makeSea(draws, { coast: COASTS[draw.coast], setting, startDay: START_DAY, days })
  const coastLog = draws.normal(COAST_LOG_SD)
  const yard = makeYard(draws, setting)
  const own = new Draws(draw.start + BOATS_START)
  const sea = withBerths(own, waters, 0, Math.max(2, Math.round(draw.boats / BOATS_A_BERTH)))
  const marina = new Marina(own, new Draws(draw.start + FAULTS_START), {
    sea,
    yard,
    coastLog,
    recordDays,
    wear: ABNORMAL_WEAR[draw.wear],
  })
  for (let index = 0; index < draw.boats; index++) marina.addBoat(index)
  return marina.fleet()
}

/** Fewer days on a berth than these, and its fault is none of the boat's. */
const LONG_STAY_DAYS = 120

function daysOn({ where }: Itinerary, berths: readonly string[]): number {
  return where.filter((place) => place !== 'ashore' && place !== 'cruise' && berths.includes(place.name)).length
}

interface MarinaDraw {
  readonly sea: ReturnType<typeof withBerths>
  readonly yard: ReturnType<typeof makeYard>
  readonly coastLog: number
  readonly recordDays: number
  readonly wear: AbnormalWear
}

class Marina {
  readonly #draws: Draws
  readonly #faultDraws: Draws
  readonly #marina: MarinaDraw
  readonly #groups: readonly Fault[]
  readonly #sufferers = new Map<Fault, Sufferer[]>()
  readonly #rows: FleetRows
  readonly #mistypings: Mistyping[] = []
  readonly #shortLived: string[] = []
  #anodeDays = 0

  constructor(draws: Draws, faultDraws: Draws, marina: MarinaDraw) {
    this.#draws = draws
    this.#faultDraws = faultDraws
    this.#marina = marina
    const { sea, recordDays, wear } = marina
    this.#groups = drawGroupFaults(faultDraws, sea.berths, recordDays, wear)
    this.#rows = { 'berths.csv': [...sea.visited, ...sea.berths].map(berthRow) }
  }

  addBoat(index: number): void {
    const { sea, yard, coastLog, recordDays, wear } = this.#marina
    const draws = this.#draws
    const home = draws.pick(sea.berths)
    const boat = makeBoat(draws, {
      index,
      water: home.water,
      days: recordDays + 1,
      recordDays,
      coastLog,
      setting: sea.setting,
    })
    const sameWater = {
      ...sea,
      berths: sea.berths.filter(({ water }) => water === home.water),
      visited: sea.visited.filter(({ water }) => water === home.water),
    }
    if (sameWater.visited.length === 0) sameWater.visited = sameWater.berths
    const itinerary = makeItinerary(draws, sameWater, boat, home, recordDays + 1)
    const group = this.#groups.find(({ berths }) => daysOn(itinerary, berths) >= LONG_STAY_DAYS) ?? null
    const own = drawFault(this.#faultDraws, { boat, home, recordDays, wear })
    const trouble = new Trouble(group ?? own, boat)
    const drive: Drive = { sea, boat, stray: null }
    const evidence = new Draws(this.#faultDraws.whole(1, 100_000))
    const life = new TroubledLife(draws, evidence, { drive, itinerary, yard, recordDays, trouble, habits: wear.habits })
    if (trouble.fault !== null) this.#suffer(trouble.fault, { boat: boat.name, trouble, life })
    add(this.#rows, 'boats.csv', [boatRow(boat)])
    const fittings = fittingRows(draws, boat)
    add(this.#rows, 'fittings.csv', fittings)
    add(this.#rows, 'stays.csv', stayRows(boat, itinerary, recordDays))
    add(this.#rows, 'haul-outs.csv', liftRows(boat, itinerary, recordDays))
    this.#shortLived.push(...shortLived({ boat: boat.name, life }))
    this.#writeDown(life, new Set(fittings.map(({ fitting }) => fitting)))
  }

  #writeDown(life: TroubledLife, fittings: ReadonlySet<string>): void {
    add(this.#rows, 'anodes.csv', life.anodes)
    add(this.#rows, 'weighings.csv', life.weighings)
    // Nobody measures at a fitting that is on no list.
    const read = life.potentials.filter(({ fitting }) => fitting === null || fittings.has(fitting))
    add(this.#rows, 'potentials.csv', read)
    add(this.#rows, 'continuity.csv', life.continuity)
    this.#mistypings.push(...life.mistypings)
    for (const anode of life.everFitted)
      this.#anodeDays += (life.removals.get(anode) ?? this.#marina.recordDays) - anode.fittedAt
  }

  #suffer(fault: Fault, sufferer: Sufferer): void {
    this.#sufferers.set(fault, [...(this.#sufferers.get(fault) ?? []), sufferer])
  }

  fleet(): AbnormalFleet {
    const { sea, recordDays } = this.#marina
    const truths = [...this.#sufferers].map(([fault, sufferers]) => truthOf(sea, fault, sufferers, recordDays))
    return {
      rows: this.#rows,
      asOf: sea.startDay + recordDays,
      faults: truths.filter((truth) => truth !== null),
      mistyped: new Set(this.#mistypings.map(({ boat, anode }) => JSON.stringify([boat, anode]))),
      shortLived: new Set(this.#shortLived),
      anodeYears: this.#anodeDays / DAYS_PER_YEAR,
    }
  }
}
