/**
 * The yearly factor on the rate, by the temperature of the water:
 *
 *     s(t) = exp(a·cos φ + b·sin φ)/mean,  φ = 2π·(t − t_w)/365.25
 *
 * with t_w the usual day of the warmest water; b moves the peak. The mean over a year is 1, so that the rate keeps its
 * meaning.
 */
export interface Season {
  readonly cos: number
  readonly sin: number
  /** Day of the year on which the water is usually warmest, counted from 1 January [d]. */
  readonly warmestDay: number
}

/** What is believed of the season before the data speak. */
export interface SeasonPrior {
  readonly season: Season
  readonly cosSd: number
  readonly sinSd: number
}

export const DAYS_PER_YEAR = 365.25

/** 1970-01-01 is day 0, a 1 January: a day number modulo the year is the day of the year. */
const phase = (day: number, warmestDay: number) => (2 * Math.PI * (day - warmestDay)) / DAYS_PER_YEAR

/** Warmest water in mid-August in the north, half a year later in the south. From memory: coastal sea-surface climatology. */
const WARMEST_DAY_NORTH = 228
/** Half the yearly range of sea-surface temperature, about 1 °C at the equator and 6.5 °C in temperate coastal water. From memory. */
const HALF_RANGE_AT_EQUATOR_C = 1
const HALF_RANGE_PER_DEGREE_C = 0.11
const LARGEST_HALF_RANGE_C = 6.5
/**
 * Change of the log rate per °C. Between nothing (the design tables of DNV-RP-B401 ask for no more current in warm water) and 0.07
 * (3 to 6 months in Florida against 9 to 18 in temperate water, some 15 °C apart; reference `salt-warm`, weak evidence).
 */
const LOG_RATE_PER_C = 0.04
const LOG_RATE_PER_C_SD = 0.03
/** The peak of wear may lie a few weeks off that of the water: a day's phase of the amplitude. Assumed. */
const SIN_SD_SHARE = 0.4
/** A fleet of which nobody wrote down where it lies. Assumed temperate. */
const UNKNOWN_LATITUDE = 45

/**
 * The season to expect at a latitude, with its uncertainty.
 *
 * @param latitude degrees, north positive; `null` where no berth has one
 */
export function seasonPriorAt(latitude: number | null): SeasonPrior {
  const degrees = latitude ?? UNKNOWN_LATITUDE
  const halfRangeC = Math.min(
    LARGEST_HALF_RANGE_C,
    HALF_RANGE_AT_EQUATOR_C + HALF_RANGE_PER_DEGREE_C * Math.abs(degrees),
  )
  const cosSd = LOG_RATE_PER_C_SD * halfRangeC
  return {
    season: {
      cos: LOG_RATE_PER_C * halfRangeC,
      sin: 0,
      warmestDay: degrees >= 0 ? WARMEST_DAY_NORTH : WARMEST_DAY_NORTH + DAYS_PER_YEAR / 2,
    },
    cosSd,
    sinSd: Math.max(SIN_SD_SHARE * LOG_RATE_PER_C * halfRangeC, cosSd / 2),
  }
}

/** Integrals of the factor over days, from a table of one year. */
export class SeasonClock {
  readonly season: Season
  readonly #weight: Float64Array
  readonly #cos: Float64Array
  readonly #sin: Float64Array

  constructor(season: Season) {
    this.season = season
    const factor = (day: number) => {
      const angle = phase(day, season.warmestDay)
      return Math.exp(season.cos * Math.cos(angle) + season.sin * Math.sin(angle))
    }
    const mean = cumulate(factor)[TABLE_STEPS]! / DAYS_PER_YEAR
    this.#weight = cumulate((day) => factor(day) / mean)
    this.#cos = cumulate((day) => (factor(day) / mean) * Math.cos(phase(day, season.warmestDay)))
    this.#sin = cumulate((day) => (factor(day) / mean) * Math.sin(phase(day, season.warmestDay)))
  }

  /** Season-weighted days over [from, to): equal to plain days over whole years [d]. */
  weightedDays(from: number, to: number): number {
    return at(this.#weight, to) - at(this.#weight, from)
  }

  /** Weighted integrals of cos φ and sin φ over [from, to), above their share of an average year [d]. */
  moments(from: number, to: number): { readonly cos: number; readonly sin: number } {
    const weight = this.weightedDays(from, to)
    const excess = (table: Float64Array) =>
      at(table, to) - at(table, from) - (weight * table[TABLE_STEPS]!) / DAYS_PER_YEAR
    return { cos: excess(this.#cos), sin: excess(this.#sin) }
  }

  /** The day on which the weighted days counted from `start` reach `weighted`, ≥ 0. */
  dayAt(start: number, weighted: number): number {
    return this.#search(start, start + this.#reach(weighted), at(this.#weight, start) + weighted)
  }

  /** The day from which the weighted days until `end` are `weighted`, ≥ 0. */
  dayBefore(end: number, weighted: number): number {
    return this.#search(end - this.#reach(weighted), end, at(this.#weight, end) - weighted)
  }

  /** Days that surely hold so many weighted ones: the factor stays within e^±2(|a| + |b|). */
  #reach(weighted: number): number {
    return weighted * Math.exp(2 * (Math.abs(this.season.cos) + Math.abs(this.season.sin))) + 1
  }

  #search(from: number, to: number, wanted: number): number {
    let low = from
    let high = to
    for (let step = 0; step < HALVINGS; step++) {
      const middle = (low + high) / 2
      if (at(this.#weight, middle) < wanted) low = middle
      else high = middle
    }
    return high
  }
}

/** Enough to bring a span of centuries down to a second. */
const HALVINGS = 45

/** Steps of the table of a year: two a day, so that the trapezoids are exact to seven digits. */
const TABLE_STEPS = 731
const STEP_DAYS = DAYS_PER_YEAR / TABLE_STEPS

function cumulate(value: (day: number) => number): Float64Array {
  const table = new Float64Array(TABLE_STEPS + 1)
  for (let step = 0; step < TABLE_STEPS; step++) {
    const middle = (value(step * STEP_DAYS) + value((step + 1) * STEP_DAYS)) / 2
    table[step + 1] = table[step]! + middle * STEP_DAYS
  }
  return table
}

/** The integral from day 0 to a day. */
function at(table: Float64Array, day: number): number {
  const years = Math.floor(day / DAYS_PER_YEAR)
  const position = (day - years * DAYS_PER_YEAR) / STEP_DAYS
  const step = Math.min(TABLE_STEPS - 1, Math.floor(position))
  const within = table[step]! + (position - step) * (table[step + 1]! - table[step]!)
  return years * table[TABLE_STEPS]! + within
}
