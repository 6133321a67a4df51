import { beforeAll, describe, expect, it } from 'vitest'
import { dayNumber } from '../../src/services/dates/day-numbers.js'
import { type DateScore, forecastOf, scoreDates, summarise } from './date-scores.js'
import { simulateFleet } from './simulated-fleet.js'

/**
 * Standard errors that a share may be off its nominal value by chance: with these groups and bounds, less than one run in a hundred
 * would fail if the intervals were exact. The fleets are fixed, so that a failure is a change of the engine and no chance.
 */
const STANDARD_ERRORS = 3
/** Anodes of one boat, and boats of one year's weather, err alike: the variance of a share is some two and a half times a binomial's. */
const DESIGN_EFFECT = 2.5

function bounds(nominal: number, anodes: number): readonly [number, number] {
  const reach = STANDARD_ERRORS * Math.sqrt((DESIGN_EFFECT * nominal * (1 - nominal)) / anodes)
  return [nominal - reach, nominal + reach]
}

const FLEETS = [
  { start: 101, coast: 'temperate' },
  { start: 102, coast: 'enclosed' },
  { start: 103, coast: 'warm' },
  { start: 104, coast: 'southern' },
] as const

describe('forecast dates on fleets whose physics is richer than the model', () => {
  let scores: DateScore[]

  beforeAll(() => {
    scores = FLEETS.flatMap((draw) => {
      const fleet = simulateFleet({ ...draw, boats: 12, years: 5 })
      const { history, forecast } = forecastOf(fleet)
      return scoreDates(fleet, history, forecast)
    })
  })

  it.each([
    ['all', () => true],
    ['never weighed', (isWeighed: boolean) => !isWeighed],
    ['weighed', (isWeighed: boolean) => isWeighed],
  ])('hold the true crossing as often as they say: %s', (_, is) => {
    const { anodes, inside80, inside90 } = summarise(scores.filter(({ truth }) => is(truth.isWeighed)))
    expect(anodes).toBeGreaterThan(50)
    const [low80, high80] = bounds(0.8, anodes)
    expect(inside80).toBeGreaterThan(low80)
    expect(inside80).toBeLessThan(high80)
    const [low90, high90] = bounds(0.9, anodes)
    expect(inside90).toBeGreaterThan(low90)
    expect(inside90).toBeLessThan(high90)
  })

  it('err less in the middle than a straight line through the last two masses', () => {
    const { medianError, lineMedianError } = summarise(scores)
    expect(medianError).toBeLessThan(0.8 * lineMedianError)
  })
})

describe('the simulator', () => {
  const draw = { start: 7, boats: 6, years: 4, coast: 'temperate' } as const
  const fleet = simulateFleet(draw)

  it('draws the same fleet from the same start, and another from another', () => {
    expect(simulateFleet(draw)).toEqual(fleet)
    expect(simulateFleet({ ...draw, start: 8 }).truths).not.toEqual(fleet.truths)
  })

  it('keeps a marina as it is when others share its water', () => {
    const several = simulateFleet({ ...draw, marinas: 2 })
    const names = new Set(fleet.truths.map(({ boat }) => boat))
    expect(several.truths.filter(({ boat }) => names.has(boat))).toEqual(fleet.truths)
  })

  it('never writes down what happened after its last day', () => {
    const days = [
      ...fleet.rows['weighings.csv']!.map((row) => row.weighed_on),
      ...fleet.rows['anodes.csv']!.flatMap((row) => [row.fitted_on, row.removed_on]),
      ...fleet.rows['stays.csv']!.flatMap((row) => [row.from, row.to]),
      ...fleet.rows['haul-outs.csv']!.flatMap((row) => [row.on, row.relaunched_on]),
    ].flatMap((day) => (day === null ? [] : [dayNumber(day)]))
    expect(Math.max(...days)).toBeLessThanOrEqual(fleet.asOf)
  })

  it('takes mass away and never gives any back: half gone is crossed', () => {
    for (const { massNowG, netMassG, crossesOn } of fleet.truths) {
      expect(massNowG).toBeLessThanOrEqual(netMassG)
      expect(massNowG).toBeGreaterThanOrEqual(0)
      if (massNowG <= 0.5 * netMassG) expect(crossesOn!).toBeLessThanOrEqual(fleet.asOf)
      else expect(crossesOn ?? Infinity).toBeGreaterThanOrEqual(fleet.asOf)
    }
  })

  it('has no truth of an anode that is not in place', () => {
    const inPlace = fleet.rows['anodes.csv']!.filter(({ removed_on }) => removed_on === null)
    expect(fleet.truths.map(({ boat, anode }) => `${boat} ${anode}`).sort()).toEqual(
      inPlace.map(({ boat, anode }) => `${boat} ${anode}`).sort(),
    )
  })
})
