import { describe, expect, it } from 'vitest'
import { nearestPoint, readablePoints, sayReading } from '../../src/web/pages/boat/curve-reading.js'

const point = (day: string, p50: number) => ({ at: new Date(`${day}T00:00:00Z`), p10: p50 - 40, p50, p90: p50 + 40 })

describe('reading a curve', () => {
  const curve = [point('2031-04-18', 900), point('2031-06-01', 800), point('2031-06-01', 780), point('2031-08-01', 700)]

  it('gives one value a day, after a weighing what the weighing made known', () => {
    expect(readablePoints(curve).map(({ p50 }) => p50)).toEqual([900, 780, 700])
  })

  it('finds the point nearest to a day, also beyond both ends', () => {
    const points = readablePoints(curve)
    const nearest = (day: string) => nearestPoint(points, Date.parse(day))
    expect(['2030-01-01', '2031-05-30', '2031-07-15', '2040-01-01'].map(nearest)).toEqual([0, 1, 2, 2])
  })

  it('says the day, the middle and the span that holds 8 of 10', () => {
    expect(sayReading(point('2031-04-18', 900))).toBe('18 Apr 2031: 900 g, 8 times in 10 between 860 g and 940 g')
  })
})
