import { describe, expect, it } from 'vitest'
import { WEIGHING_ERROR } from '../../src/engine/depletion/weighing-error.js'
import { seasonCurve } from '../../src/engine/rates/season-curve.js'
import { sayWeight } from '../../src/web/pages/boat/forecast-words.js'
import {
  errorLines,
  sayAhead,
  sayBias,
  sayCoverage,
  sayLaws,
  saySeason,
  saySpread,
  verdictOn,
} from '../../src/web/pages/model/model-words.js'
import { reliabilityPoints } from '../../src/web/pages/model/reliability-data.js'
import { sayRatio } from '../../src/web/wording/amounts.js'

const coverage = (share: number | null, low: number | null, high: number | null) => ({ level: 0.8, share, low, high })

describe('the verdict on a coverage', () => {
  it.each([
    [coverage(0.81, 0.77, 0.84), 'asPromised'],
    [coverage(0.7, 0.65, 0.75), 'tooNarrow'],
    [coverage(0.9, 0.86, 0.93), 'tooWide'],
    [coverage(null, null, null), null],
  ])('of %j', (given, verdict) => {
    expect(verdictOn(given)).toBe(verdict)
  })

  it('is a sentence with both shares, and an honest one where nothing was judged', () => {
    expect(sayCoverage(coverage(0.7, 0.65, 0.75), 1200)).toMatch(/^Of 1,200 forecasts judged, 70 % .* 80 % should\. /)
    expect(sayCoverage(coverage(null, null, null), 0)).toBe('No forecast has been judged yet.')
  })
})

describe('the lean of forecasts', () => {
  it('is told with its direction, and not at all where there is next to none', () => {
    expect(sayBias({ meanScore: 0.4, biasG: 21, biasDays: 12.4 })).toMatch(/late: more was lost .*21 g .* 12 days/)
    expect(sayBias({ meanScore: -0.4, biasG: -21, biasDays: -12.4 })).toMatch(/early: less was lost .*21 g .* 12 days/)
    expect(sayBias({ meanScore: 0.05, biasG: 3, biasDays: 1 })).not.toMatch(/early|late/)
    expect(sayBias({ meanScore: null, biasG: null, biasDays: null })).toBe('')
  })

  it('is not told where the middle and the mean disagree', () => {
    expect(sayBias({ meanScore: 0.4, biasG: -3, biasDays: -2 })).not.toMatch(/early|late/)
  })

  it('of a group is a number of days with its sign', () => {
    expect([sayAhead(3.2), sayAhead(-3.2), sayAhead(0.2), sayAhead(null)]).toEqual(['+3', '−3', '0', '–'])
  })
})

describe('what was learned, in words', () => {
  it('tells spreads as percentages, large ones as factors', () => {
    expect(saySpread(Math.log(1.3) ** 2)).toBe('about ±30 %')
    expect(saySpread(Math.log(2) ** 2)).toBe('a factor of about 2.0 either way')
  })

  it('tells how likely each law is beside the others, but for one that hardly is', () => {
    const laws = [0, 2 / 3, 1].map((exponent, i) => ({ exponent, evidence: 0, probability: [0.004, 0.9, 0.096][i]! }))
    expect(sayLaws(laws)).toEqual(['by surface 90 %', 'by mass 10 %'])
    expect(sayLaws([])).toEqual([])
  })

  it('tells the rate of an interval beside the one expected', () => {
    expect(sayRatio(Math.log(2.4))).toBe('2.4 times the rate expected')
    expect(sayRatio(Math.log(0.3))).toBe('30 % of the rate expected')
  })

  it('names the fastest and the slowest month', () => {
    const curve = seasonCurve({ cos: 0.3, sin: 0, warmestDay: 228 }, { cos: 0.1, sin: 0.1 })
    expect(saySeason(curve)).toMatch(/^In August .*, in February/)
  })

  it('says which errors of weighing are the yard’s own', () => {
    const learned = errorLines({ ...WEIGHING_ERROR, visualBiasPoints: 0.04 }).filter(({ isLearned }) => isLearned)
    expect(learned.map(({ what, how }) => `${what}: ${how}`)).toEqual([
      'By eye: 4.0 % too heavy, give or take 10.0 % of the new mass',
    ])
  })

  it('notes a weighing that hardly counts, and no other', () => {
    expect(sayWeight(0.2)).toBe('counted at 20 %: stands out')
    expect([sayWeight(0.5), sayWeight(1), sayWeight(null)]).toEqual(['', '', ''])
  })
})

describe('the points of the reliability diagram', () => {
  const bins = (counts: readonly number[]) =>
    counts.map((count, bin) => ({ from: bin / 10, to: (bin + 1) / 10, count, share: null, low: null, high: null }))

  it('lie on the diagonal where each tenth came a tenth of the time', () => {
    const points = reliabilityPoints(bins(new Array(10).fill(7)))
    expect(points).toHaveLength(9)
    for (const { promised, kept, low, high } of points) {
      expect(kept).toBeCloseTo(promised, 12)
      expect(low < kept && kept < high).toBe(true)
    }
  })

  it('lie below it where more was lost than forecast', () => {
    const points = reliabilityPoints(bins([0, 0, 0, 0, 0, 0, 0, 5, 10, 20]))
    for (const { promised, kept } of points) expect(kept).toBeLessThan(promised)
  })

  it('are none before the first judgement', () => {
    expect(reliabilityPoints(bins(new Array(10).fill(0)))).toEqual([])
  })
})
