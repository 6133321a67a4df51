import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  pValueOf,
  scan,
  shareIn,
  stretchesBetween,
  stretchesOf,
} from '../../../../src/engine/diagnosis/detection/scan.js'
import { panelOf, viewOf, yearlyLosses } from './constructed-panels.js'

const days = fc
  .uniqueArray(fc.integer({ min: 0, max: 6000 }), { minLength: 2, maxLength: 20 })
  .map((some) => some.sort((a, b) => a - b))

describe('the stretches of a record', () => {
  it('deal out the probability of one false alarm among them', () => {
    fc.assert(
      fc.property(days, (ends) => {
        const stretches = stretchesBetween(ends)
        expect(stretches.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 10)
        expect(stretches.every(({ weight }) => weight > 0)).toBe(true)
        expect(stretches.filter(({ isWhole }) => isWhole)).toHaveLength(1)
        expect(stretches.filter(({ isSingle }) => isSingle)).toHaveLength(ends.length - 1)
      }),
    )
  })

  it('take weighings of one week for one lift', () => {
    const [one, other] = [
      yearlyLosses(3),
      yearlyLosses(3, (year) => ({ from: year * 365 + 6, to: (year + 1) * 365 + 6 })),
    ]
    expect(stretchesOf([...one, ...other])).toHaveLength(stretchesOf(one).length)
  })

  it('are none where nothing was weighed', () => {
    expect(stretchesOf([])).toEqual([])
  })
})

describe('scan', () => {
  it('scores the stretch of a shift highest, and higher the larger the shift', () => {
    const losses = yearlyLosses(6)
    const best = (size: number) => {
      const view = viewOf(panelOf(losses, { scores: [0, 0, 0, size, size, size] }))
      return scan(view, stretchesOf(losses)).reduce((most, each) => (each.score > most.score ? each : most))
    }
    for (const size of [1, 2, 3]) {
      expect(best(size).stretch).toMatchObject({ from: 3 * 365, to: 6 * 365 })
      // Three independent scores of that size.
      expect(best(size).score).toBeCloseTo(size * Math.sqrt(3), 9)
    }
  })

  it('is less likely by chance the larger the score, and more the wider ordinary ones spread', () => {
    const stretch = { from: 0, to: 365, isWhole: false, isSingle: true, weight: 0.1 }
    const pOf = (score: number, scale: number) =>
      pValueOf({ stretch, evidence: { response: 0, information: 0 }, score }, scale)
    const score = fc.double({ min: -8, max: 8, noNaN: true })
    fc.assert(
      fc.property(score, score, fc.double({ min: 1, max: 5, noNaN: true }), (a, b, scale) => {
        const [near, far] = Math.abs(a) < Math.abs(b) ? [a, b] : [b, a]
        expect(pOf(far!, 1)).toBeLessThanOrEqual(pOf(near!, 1))
        expect(pOf(a, scale)).toBeGreaterThanOrEqual(pOf(a, 1))
        expect(pOf(-a, scale)).toBe(pOf(a, scale))
        expect(pOf(a, scale)).toBeLessThanOrEqual(1)
      }),
    )
  })
})

describe('shareIn', () => {
  it('adds to 1 over stretches that follow one another through a loss', () => {
    fc.assert(
      fc.property(days, (ends) => {
        const loss = { from: ends[0]!, to: ends.at(-1)! }
        const parts = ends.slice(1).map((to, at) => shareIn(loss, { from: ends[at]!, to }))
        expect(parts.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10)
      }),
    )
  })
})
