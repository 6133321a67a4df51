import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  ANODE_YEARS_TO_FALSE_SIGNAL,
  driftDesign,
  driftsOf,
  tellsOf,
} from '../../../../src/engine/diagnosis/detection/drift.js'
import { cumulativeSums } from '../../../../src/engine/statistics/cumulative-sum.js'
import { averageRunLength } from '../../../../src/engine/statistics/cumulative-sum-run-length.js'
import { Uniform } from '../../simulated-fleet.js'
import { panelOf, viewOf, yearlyLosses } from './constructed-panels.js'

const YEAR = 365
const DAYS_PER_YEAR = 365.25

/** A fleet of so many places, weighed so often a year for five years. */
function placesOf(count: number, liftsAYear = 1) {
  const span = YEAR / liftsAYear
  return Array.from({ length: count }, () => {
    const losses = yearlyLosses(5 * liftsAYear, (at) => ({ from: at * span, to: (at + 1) * span }))
    const panel = panelOf(losses)
    return { panel, view: viewOf(panel) }
  })
}

describe('driftDesign', () => {
  it.each([1, 2, 4])('gives a false signal in the anode-years that are stated, at %d lifts a year', (liftsAYear) => {
    const length = averageRunLength(driftDesign(placesOf(20, liftsAYear))!)
    // Of two sums either may give one.
    const years = ((length / 2) * YEAR) / liftsAYear / DAYS_PER_YEAR
    expect(years / ANODE_YEARS_TO_FALSE_SIGNAL).toBeCloseTo(1, 6)
  })

  it('asks the same of a small fleet and of a large one, and more where more lifts may be false', () => {
    const [small, large, often] = [placesOf(3), placesOf(60), placesOf(3, 3)].map((each) => driftDesign(each)!)
    expect(large!.limit).toBeCloseTo(small!.limit, 9)
    expect(often!.limit).toBeGreaterThan(small!.limit)
  })

  it('is none where nothing was weighed', () => {
    expect(driftDesign([])).toBeNull()
  })

  // Fixed draws: 400 runs of standard normal lifts, whose mean has a standard error of 5 %, held to three of them.
  it('keeps that promise over simulated lifts of ordinary wear', () => {
    const design = driftDesign(placesOf(20))!
    const random = new Uniform(77)
    const runs = 400
    let lifts = 0
    for (let run = 0; run < runs; run++) lifts += runLength(random, design)
    const years = (lifts / runs) * (YEAR / DAYS_PER_YEAR)
    expect(Math.abs(years / ANODE_YEARS_TO_FALSE_SIGNAL - 1)).toBeLessThan(0.15)
  })
})

/** Lifts up to the first signal of either sum, from nothing. */
function runLength(random: Uniform, design: Parameters<typeof cumulativeSums>[1]): number {
  for (let length = 4096; ; length *= 4) {
    const { up, down } = cumulativeSums(
      Array.from({ length }, () => random.normal()),
      design,
    )
    const first = Math.min(up.signalAt ?? Infinity, down.signalAt ?? Infinity)
    if (first < length) return first + 1
  }
}

describe('driftsOf', () => {
  const design = { allowance: 1, limit: 4 }
  const record = (scores: readonly number[], shift = 0) =>
    viewOf(
      panelOf(
        yearlyLosses(scores.length, (year) => ({ from: year * YEAR + shift, to: (year + 1) * YEAR + shift })),
        { scores },
      ),
    )
  const score = fc.double({ min: -6, max: 6, noNaN: true })
  const history = fc.array(score, { minLength: 1, maxLength: 12 })

  it('reaches from the last lift at which nothing was off to the one that gave the signal', () => {
    const drifts = driftsOf(record([0, -1, 0.5, 2.4, 2.6, 2.5, 2.4, 2.4]), design, 1)
    expect(drifts).toEqual([{ direction: 'fast', from: 3 * YEAR, to: 6 * YEAR }])
  })

  it('says nothing of small surprises that do not add up', () => {
    expect(driftsOf(record([1.5, -1.5, 1.8, -1.7, 1.6, 0.2]), design, 1)).toEqual([])
  })

  it('has fast and slow change places when every surprise changes its sign', () => {
    const turned = { fast: 'slow', slow: 'fast' } as const
    fc.assert(
      fc.property(history, (scores) => {
        const one = driftsOf(record(scores), design, 1)
        const other = driftsOf(record(scores.map((value) => -value)), design, 1)
        const back = other.map(({ direction, ...when }) => ({ ...when, direction: turned[direction] }))
        expect(new Set(back.map((each) => JSON.stringify(Object.entries(each).sort())))).toEqual(
          new Set(one.map((each) => JSON.stringify(Object.entries(each).sort()))),
        )
      }),
    )
  })

  it('moves with the calendar, and lies within the record', () => {
    fc.assert(
      fc.property(history, fc.integer({ min: -9000, max: 9000 }), (scores, shift) => {
        const drifts = driftsOf(record(scores), design, 1)
        expect(driftsOf(record(scores, shift), design, 1)).toEqual(
          drifts.map(({ direction, from, to }) => ({ direction, from: from + shift, to: to + shift })),
        )
        for (const { from, to } of drifts) {
          expect(from).toBeGreaterThanOrEqual(0)
          expect(to).toBeGreaterThan(from)
          expect(to).toBeLessThanOrEqual(scores.length * YEAR)
        }
      }),
    )
  })

  it('signals no sooner where ordinary scores spread more', () => {
    fc.assert(
      fc.property(history, fc.double({ min: 1, max: 4, noNaN: true }), (scores, scale) => {
        const before = driftsOf(record(scores), design, 1)
        for (const { direction, to } of driftsOf(record(scores), design, scale))
          expect(before.find((each) => each.direction === direction)!.to).toBeLessThanOrEqual(to)
      }),
    )
  })

  it('takes weighings of one week for one lift, on the first of its days', () => {
    const days = [0, 0, YEAR, YEAR + 6]
    const losses = yearlyLosses(4, (at) => ({ from: days[at]!, to: days[at]! + YEAR, anode: `Wren/${at % 2}` }))
    const together = driftsOf(viewOf(panelOf(losses, { scores: [3.2, 3.2, 3.2, 3.2] })), design, 1)
    expect(together).toEqual([{ direction: 'fast', from: 0, to: 2 * YEAR }])
  })
})

describe('the surprises that are summed', () => {
  it('are independent again where scores hang together: the draws that the scores were made of', () => {
    const draw = fc.double({ min: -4, max: 4, noNaN: true })
    const correlation = 0.6
    fc.assert(
      fc.property(draw, draw, (first, second) => {
        const scores = [first, correlation * first + Math.sqrt(1 - correlation ** 2) * second]
        const [one, other] = viewOf(panelOf(yearlyLosses(2), { scores, correlation })).innovations([[0], [1]])
        expect(one).toBeCloseTo(first, 9)
        expect(other).toBeCloseTo(second, 9)
      }),
    )
  })
})

describe('tellsOf', () => {
  const drift = { direction: 'fast', from: 100, to: 500 } as const

  it('takes a stretch that wears the same way at the same time for the drift, and no other', () => {
    expect(tellsOf(drift, { from: 400, to: 900 }, 'fast')).toBe(true)
    expect(tellsOf(drift, { from: 400, to: 900 }, 'slow')).toBe(false)
    expect(tellsOf(drift, { from: 500, to: 900 }, 'fast')).toBe(false)
    expect(tellsOf(drift, { from: 0, to: 100 }, 'fast')).toBe(false)
  })
})
