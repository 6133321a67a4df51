import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ExposureCalendar } from '../../../src/engine/rates/exposure-calendar.js'
import type { Stay } from '../../../src/engine/rates/fleet-history.js'
import { SeasonClock } from '../../../src/engine/rates/season.js'

const AS_OF = 1000
const FAR = 1e6
const at = (from: number, to: number | null, berth: string | null): Stay => ({ from, to, berth })
const calendar = (stays: Stay[], haulOuts: { on: number; relaunchedOn: number | null; planned: boolean }[] = []) =>
  new ExposureCalendar({ stays, haulOuts }, AS_OF, new SeasonClock({ cos: 0, sin: 0, warmestDay: 228 }))

describe('ExposureCalendar', () => {
  it('counts days at each berth, and none ashore', () => {
    const { days, byBerth } = calendar([at(0, 100, 'A'), at(100, 200, null), at(200, 300, 'B')]).between(50, 260)
    expect(days).toBeCloseTo(110, 6)
    expect([...byBerth.keys()]).toEqual(['A', 'B'])
    expect(byBerth.get('B')).toBeCloseTo(60, 6)
  })

  it('counts a gap as in the water at no recorded berth', () => {
    const { days, byBerth } = calendar([at(0, 100, 'A'), at(150, 300, 'A')]).between(0, 300)
    expect(days).toBeCloseTo(300, 6)
    expect(byBerth.get('A')).toBeCloseTo(250, 6)
  })

  it('counts a boat without stays as in the water', () => {
    const { days, byBerth } = calendar([]).between(10, 40)
    expect(days).toBeCloseTo(30, 6)
    expect(byBerth.size).toBe(0)
  })

  it('counts the days of a lift as ashore, even where the berth was kept', () => {
    const lifted = calendar([at(0, null, 'A')], [{ on: 10, relaunchedOn: 15, planned: false }])
    expect(lifted.between(0, 30).days).toBeCloseTo(25, 6)
    expect(
      calendar([at(0, null, 'A')], [{ on: 10, relaunchedOn: null, planned: false }]).between(0, 30).days,
    ).toBeCloseTo(30, 6)
  })

  it('goes on at the last berth where the record ends, from today where the boat is ashore', () => {
    const ashore = calendar([at(0, 900, 'A'), at(900, null, null)])
    expect(ashore.between(900, AS_OF).days).toBeCloseTo(0, 6)
    expect(ashore.between(AS_OF, AS_OF + 30).byBerth.get('A')).toBeCloseTo(30, 6)
  })

  it('keeps a boat ashore until its relaunch where that is known', () => {
    const planned = calendar([at(0, 900, 'A'), at(900, AS_OF + 40, null)])
    expect(planned.between(AS_OF, AS_OF + 100).days).toBeCloseTo(60, 6)
  })

  const stays = fc.array(
    fc.record({ length: fc.integer({ min: 0, max: 200 }), berth: fc.constantFrom('A', 'B', null) }),
    {
      maxLength: 8,
    },
  )
  const fromLengths = (list: { length: number; berth: string | null }[]) => {
    let day = 0
    return list.map(({ length, berth }) => {
      const stay = at(day, day + length, berth)
      day += length
      return stay
    })
  }
  const day = fc.integer({ min: 0, max: 1500 })

  it('adds up over successive spans', () => {
    fc.assert(
      fc.property(stays, fc.tuple(day, day, day), (list, days) => {
        const [a, b, c] = [...days].sort((x, y) => x - y) as [number, number, number]
        const whole = calendar(fromLengths(list))
        expect(whole.between(a, b).days + whole.between(b, c).days).toBeCloseTo(whole.between(a, c).days, 6)
      }),
    )
  })

  it('finds the day of an exposure, forwards and backwards: the inverse of counting', () => {
    fc.assert(
      fc.property(stays, day, fc.integer({ min: 1, max: 900 }), (list, start, exposure) => {
        const boat = calendar(fromLengths(list))
        const later = boat.dayAtExposure(start, exposure, FAR)!
        expect(boat.between(start, later).days).toBeCloseTo(exposure, 6)
        const earlier = boat.dayAtExposure(start, -exposure, FAR)!
        expect(boat.between(earlier, start).days).toBeCloseTo(exposure, 6)
      }),
    )
  })

  it('knows no day beyond the horizon', () => {
    expect(calendar([]).dayAtExposure(0, 500, 499)).toBeNull()
    expect(calendar([]).dayAtExposure(0, 500, 501)).toBeCloseTo(500, 6)
  })
})
