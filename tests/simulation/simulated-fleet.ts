import type { CsvFileName, CsvRowOf } from '../../src/contract/csv/index.js'
import { calendarDay, dayNumber } from '../../src/services/dates/day-numbers.js'
import type { Drive } from './anode-life.js'
import { type AnodeTruth, liveLife } from './boat-life.js'
import { makeBoat, type TrueBoat } from './boats.js'
import { Draws } from './draws.js'
import { type Itinerary, makeItinerary, type Whereabouts } from './itinerary.js'
import { type Berth, COASTS, makeSea, type Sea, withBerths } from './sea.js'
import { SETTINGS, type SettingName } from './setting.js'
import { makeYard, type Yard } from './yard.js'

export type FleetRows = { -readonly [N in CsvFileName]?: CsvRowOf<N>[] }

export interface FleetDraw {
  readonly start: number
  /** In each marina. */
  readonly boats: number
  readonly years: number
  readonly coast: keyof typeof COASTS
  /** Marinas on the same water, without a berth or a boat in common; the first is the same however many there are. */
  readonly marinas?: number
  /** `usual` unless given. */
  readonly setting?: SettingName
}

/** A fleet as its marina wrote it down until a day, and what is true of it. */
export interface SimulatedFleet {
  readonly rows: FleetRows
  readonly asOf: number
  readonly truths: readonly AnodeTruth[]
}

export const START_DAY = dayNumber('2010-01-01')
const DAYS_PER_YEAR = 365
/** After the record, for the anodes to cross. */
const YEARS_AHEAD = 10
export const BOATS_A_BERTH = 2.5
export const COAST_LOG_SD = 0.3
/** Starts of the marinas' own draws lie apart by this. */
const MARINA_STEP = 1009

/**
 * A fleet whose physics is richer than the model's: a boat's metals ask for a current that its anodes share by surface and
 * driving voltage, day by day, with the water's temperature, salt, shore leads, weather, shocks and faults.
 */
export function simulateFleet(draw: FleetDraw): SimulatedFleet {
  const draws = new Draws(draw.start)
  // The last day falls anywhere in the year: a forecast is asked for in spring and in autumn.
  const recordDays = draw.years * DAYS_PER_YEAR + draws.whole(0, DAYS_PER_YEAR)
  const days = recordDays + YEARS_AHEAD * DAYS_PER_YEAR
  const setting = SETTINGS[draw.setting ?? 'usual']
  const waters: Waters = {
    sea: makeSea(draws, { coast: COASTS[draw.coast], setting, startDay: START_DAY, days }),
    coastLog: draws.normal(COAST_LOG_SD),
    yard: makeYard(draws, setting),
    recordDays,
    days,
  }
  const rows: FleetRows = { 'berths.csv': waters.sea.visited.map(berthRow) }
  const truths: AnodeTruth[] = []
  for (let marina = 0; marina < (draw.marinas ?? 1); marina++)
    addMarina(new Draws(draw.start + MARINA_STEP * (marina + 1)), waters, draw.boats, marina, { rows, truths })
  return { rows, asOf: START_DAY + recordDays, truths }
}

/** What marinas on one water share. */
interface Waters {
  readonly sea: Sea
  readonly coastLog: number
  readonly yard: Yard
  readonly recordDays: number
  readonly days: number
}

function addMarina(
  draws: Draws,
  waters: Waters,
  boats: number,
  marina: number,
  { rows, truths }: { rows: FleetRows; truths: AnodeTruth[] },
): void {
  const { yard, recordDays, days, coastLog } = waters
  const berthCount = Math.max(2, Math.round(boats / BOATS_A_BERTH))
  const sea = withBerths(draws, waters.sea, marina * berthCount, berthCount)
  add(rows, 'berths.csv', sea.berths.map(berthRow))
  for (let index = marina * boats; index < (marina + 1) * boats; index++) {
    const home = draws.pick(sea.berths)
    const boat = makeBoat(draws, { index, water: home.water, days, recordDays, coastLog, setting: sea.setting })
    const itinerary = makeItinerary(draws, sea, boat, home, days)
    const drive: Drive = { sea, boat, stray: drawStray(draws, days) }
    const life = liveLife(draws, { drive, itinerary, yard, recordDays, days })
    add(rows, 'boats.csv', [boatRow(boat)])
    add(rows, 'fittings.csv', fittingRows(draws, boat))
    add(rows, 'stays.csv', stayRows(boat, itinerary, recordDays))
    add(rows, 'haul-outs.csv', liftRows(boat, itinerary, recordDays))
    add(rows, 'anodes.csv', life.anodes)
    add(rows, 'weighings.csv', life.weighings)
    truths.push(...life.truths)
  }
}

export function add<N extends CsvFileName>(rows: FleetRows, name: N, more: readonly CsvRowOf<N>[]): void {
  const list: CsvRowOf<N>[] = rows[name] ?? []
  list.push(...more)
  Object.assign(rows, { [name]: list })
}

/** A leak of current for some months in one boat of twenty. */
function drawStray(draws: Draws, days: number): Drive['stray'] {
  if (!draws.chance(0.05)) return null
  const from = draws.whole(0, days >> 1)
  return { from, to: from + draws.whole(60, 250), factor: draws.between(2, 4.5) }
}

export function berthRow(berth: Berth): CsvRowOf<'berths.csv'> {
  return {
    berth: berth.name,
    pontoon: berth.pontoon,
    water: berth.water,
    salinity_psu: Number(berth.salinityPsu.toFixed(1)),
    latitude: Number(berth.latitude.toFixed(3)),
    longitude: null,
    shore_power: berth.shorePower,
  }
}

export function boatRow(boat: TrueBoat): CsvRowOf<'boats.csv'> {
  return {
    boat: boat.name,
    owner_name: null,
    owner_email: null,
    hull: boat.hull,
    galvanic_isolator: boat.isolator ? 'yes' : 'no',
    launched_year: null,
  }
}

/** One boat in five has fittings that nobody measured, one in ten none written down. */
export function fittingRows(draws: Draws, boat: TrueBoat): CsvRowOf<'fittings.csv'>[] {
  if (draws.chance(0.1)) return []
  const isMeasured = draws.chance(0.8)
  return boat.fittings.map(({ fitting, metal, areaCm2, coated, bonded }) => ({
    boat: boat.name,
    fitting,
    metal,
    area_cm2: isMeasured || draws.chance(0.5) ? areaCm2 : null,
    coated,
    bonded,
  }))
}

export function stayRows(boat: TrueBoat, { where, lifts }: Itinerary, recordDays: number): CsvRowOf<'stays.csv'>[] {
  const written = whereWritten(where, lifts)
  const stays: CsvRowOf<'stays.csv'>[] = []
  let from = boat.arrivesAt
  for (let at = from + 1; at <= recordDays + 1; at++) {
    if (at <= recordDays && written[at] === written[from]) continue
    const place = written[from]!
    if (place !== 'cruise')
      stays.push({
        boat: boat.name,
        from: calendarDay(START_DAY + from),
        to: at > recordDays ? null : calendarDay(START_DAY + at),
        berth: place === 'ashore' ? null : place.name,
        shore_power_hours_per_day: place !== 'ashore' && place.shorePower ? boat.shoreHours : null,
      })
    from = at
  }
  return stays
}

/** A lift that is no stay of its own is written over by the berth before. */
function whereWritten(where: readonly Whereabouts[], lifts: Itinerary['lifts']): Whereabouts[] {
  const written = [...where]
  for (const { at, relaunchedAt, isStayAshore } of lifts) {
    if (isStayAshore) continue
    const before = written[at - 1]!
    written.fill(before === 'cruise' ? written[relaunchedAt]! : before, at, relaunchedAt)
  }
  return written
}

export function liftRows(boat: TrueBoat, { lifts }: Itinerary, recordDays: number): CsvRowOf<'haul-outs.csv'>[] {
  return lifts
    .filter(({ at }) => at <= recordDays)
    .map(({ at, relaunchedAt, isRelaunchKnown }) => ({
      boat: boat.name,
      on: calendarDay(START_DAY + at),
      relaunched_on: isRelaunchKnown && relaunchedAt <= recordDays ? calendarDay(START_DAY + relaunchedAt) : null,
      planned: false,
    }))
}
