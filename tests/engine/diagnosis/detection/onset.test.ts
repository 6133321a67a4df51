import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Candidate } from '../../../../src/engine/diagnosis/detection/candidate.js'
import { dateShift } from '../../../../src/engine/diagnosis/detection/onset.js'
import { ExposureCalendar } from '../../../../src/engine/rates/exposure-calendar.js'
import { SeasonClock } from '../../../../src/engine/rates/season.js'
import { panelOf, viewOf, yearlyLosses } from './constructed-panels.js'

const YEAR = 365
const YEARS = 8
const EXPECTED_G = 300

/** A boat in the water all along, where no season matters. */
function calendarsFrom(start: number) {
  const stays = [{ from: start - 100, to: null, berth: 'A1' }]
  const clock = new SeasonClock({ cos: 0, sin: 0, warmestDay: 200 })
  return { boats: [{ calendar: new ExposureCalendar({ stays, haulOuts: [] }, start + 9000, clock) }] }
}

interface Change {
  /** Days after the first weighing. */
  readonly day: number
  readonly factor: number
  readonly start?: number
  readonly sd?: number
  /** Years of the stretch that was found; from the year of the change to the end unless given. */
  readonly isWhole?: boolean
}

/** One place, weighed yearly, whose losses change by a factor on some day; and the stretch that a search would find. */
function candidateOf({ day, factor, start = 10_000, sd = 0.1, isWhole = false }: Change): Candidate {
  const losses = yearlyLosses(YEARS, (year) => {
    const share = Math.max(0, Math.min(1, year + 1 - day / YEAR))
    const consumption = EXPECTED_G * (1 + share * (factor - 1))
    return { from: start + year * YEAR, to: start + (year + 1) * YEAR, consumption }
  })
  // The lift before the change lies nearer or farther: the stretch begins at the nearest.
  const from = isWhole ? start : start + Math.round(day / YEAR) * YEAR
  const view = viewOf(panelOf(losses, { expected: EXPECTED_G, sd }))
  return {
    scope: 'anode',
    boat: 'Wren',
    berth: null,
    pontoon: null,
    stretch: { from, to: start + YEARS * YEAR, isWhole, isSingle: false, weight: 0.1 },
    evidence: { response: 0, information: 0 },
    score: factor > 1 ? 6 : -6,
    isDrift: false,
    p: 1e-6,
    parts: [{ view, memberShares: losses.map(() => 1) }],
    losses,
  }
}

const dated = (change: Change) => dateShift(calendarsFrom(change.start ?? 10_000), candidateOf(change))

describe('dateShift', () => {
  it.each([
    [2.5, 3 * YEAR],
    [2.5, 3.5 * YEAR],
    [2.5, 4.25 * YEAR],
    [0.2, 3 * YEAR],
    [0.2, 4.6 * YEAR],
  ])('finds a change by a factor of %d on the day on which it was made: %d', (factor, day) => {
    const { onset, logRatio } = dated({ day, factor })
    expect(Math.abs(onset!.p50 - 10_000 - day)).toBeLessThan(60)
    expect(onset!.p10 - 10_000).toBeLessThan(day + 30)
    expect(onset!.p90 - 10_000).toBeGreaterThan(day - 30)
    expect(Math.abs(logRatio.mean - Math.log(factor))).toBeLessThan(2 * logRatio.sd)
  })

  const change = fc.record({
    day: fc.double({ min: YEAR, max: (YEARS - 1.5) * YEAR, noNaN: true }),
    factor: fc.constantFrom(0.02, 0.3, 1.6, 4, 30),
    sd: fc.double({ min: 0.05, max: 0.6, noNaN: true }),
  })

  it('gives quantiles in order, inside the record, and a size on the side of the score', () => {
    fc.assert(
      fc.property(change, (given) => {
        const { onset, logRatio } = dated(given)
        expect(onset!.p10).toBeLessThanOrEqual(onset!.p50)
        expect(onset!.p50).toBeLessThanOrEqual(onset!.p90)
        expect(onset!.p10).toBeGreaterThanOrEqual(10_000)
        expect(onset!.p90).toBeLessThanOrEqual(10_000 + YEARS * YEAR)
        expect(Math.sign(logRatio.mean)).toBe(given.factor > 1 ? 1 : -1)
        expect(logRatio.sd).toBeGreaterThan(0)
      }),
      { numRuns: 40 },
    )
  })

  it('moves with the calendar: so many days later, so many days later', () => {
    fc.assert(
      fc.property(change, fc.integer({ min: -3000, max: 3000 }), (given, shift) => {
        const [here, there] = [dated(given), dated({ ...given, start: 10_000 + shift })]
        expect(there.logRatio.mean).toBeCloseTo(here.logRatio.mean, 6)
        for (const at of ['p10', 'p50', 'p90'] as const)
          expect(Math.abs(there.onset![at] - here.onset![at] - shift)).toBeLessThan(1e-3)
      }),
      { numRuns: 25 },
    )
  })

  it('is surer of the day and of the size where losses are known better', () => {
    const [sharp, vague] = [0.05, 0.4].map((sd) => dated({ day: 3.5 * YEAR, factor: 2.5, sd }))
    expect(sharp!.onset!.p90 - sharp!.onset!.p10).toBeLessThan(vague!.onset!.p90 - vague!.onset!.p10)
    expect(sharp!.logRatio.sd).toBeLessThan(vague!.logRatio.sd)
  })

  it('tells a larger size where more was lost', () => {
    const means = [1.3, 1.8, 2.5, 4, 8].map((factor) => dated({ day: 3 * YEAR, factor }).logRatio.mean)
    expect(means).toEqual([...means].sort((a, b) => a - b))
    expect(new Set(means).size).toBe(means.length)
  })

  it('gives no day to what was so from the first', () => {
    const { onset, logRatio } = dated({ day: 0, factor: 3, isWhole: true })
    expect(onset).toBeNull()
    expect(Math.abs(logRatio.mean - Math.log(3))).toBeLessThan(0.1)
  })

  it('takes a loss of nothing as slow, not as infinitely slow', () => {
    const { logRatio, onset } = dated({ day: 3 * YEAR, factor: 0 })
    expect(logRatio.mean).toBeLessThan(-2)
    expect(Number.isFinite(logRatio.mean) && Number.isFinite(onset!.p50)).toBe(true)
  })
})
