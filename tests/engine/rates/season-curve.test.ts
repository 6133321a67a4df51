import { describe, expect, it } from 'vitest'
import { seasonCurve } from '../../../src/engine/rates/season-curve.js'

describe('seasonCurve', () => {
  const season = { cos: 0.3, sin: 0, warmestDay: 228 }

  it('has a mean of one, ends as it begins, and is highest on the warmest day', () => {
    const curve = seasonCurve(season, { cos: 0.1, sin: 0.1 })
    const mean = curve.slice(1).reduce((sum, { factor }) => sum + factor, 0) / (curve.length - 1)
    expect(mean).toBeCloseTo(1, 9)
    expect(curve.at(-1)!.factor).toBeCloseTo(curve[0]!.factor, 9)
    const highest = curve.reduce((best, point) => (point.factor > best.factor ? point : best))
    expect(Math.abs(highest.dayOfYear - 228)).toBeLessThanOrEqual(2.6)
    for (const { low, factor, high } of curve) expect(low < factor && factor < high).toBe(true)
  })

  it('is level, without a band, where there is neither season nor doubt', () => {
    for (const { factor, low, high } of seasonCurve({ ...season, cos: 0 }, { cos: 0, sin: 0 })) {
      expect([factor, low, high].map((value) => Number(value.toFixed(12)))).toEqual([1, 1, 1])
    }
  })
})
