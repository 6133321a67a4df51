import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ExposureCalendar } from '../../../src/engine/rates/exposure-calendar.js'
import type { Stay } from '../../../src/engine/rates/fleet-history.js'

const AS_OF = 1000
const FAR = 1e6
const at = (from: number, to: number | null, berth: string | null): Stay => ({ from, to, berth })
const calendar = (stays: Stay[], haulOuts: { on: number; relaunchedOn: number | null; planned: boolean }[] = []) =>
  new ExposureCalendar({ stays, haulOuts }, AS_OF)

describe('ExposureCalendar', () => {
  it('counts days at each berth, and none ashore', () => {
    const { days, byBerth } = calendar([at(0, 100, 'A'), at(100, 200, null), at(200, 300, 'B')]).between(50, 260)
    expect(days).toBe(110)
    expect([...byBerth]).toEqual([
      ['A', 50],
      ['B', 60],
    ])
  })

  it('counts a gap as in the water at no recorded berth', () => {
    const { days, byBerth } = calendar([at(0, 100, 'A'), at(150, 300, 'A')]).between(0, 300)
    expect([days, byBerth.get('A')]).toEqual([300, 250])
  })

  it('counts a boat without stays as in the water', () => {
    expect(calendar([]).between(10, 40)).toEqual({ days: 30, byBerth: new Map() })
  })

  it('counts the days of a lift as ashore, even where the berth was kept', () => {
    const lifted = calendar([at(0, null, 'A')], [{ on: 10, relaunchedOn: 15, planned: false }])
    expect(lifted.between(0, 30).days).toBe(25)
    expect(calendar([at(0, null, 'A')], [{ on: 10, relaunchedOn: null, planned: false }]).between(0, 30).days).toBe(30)
  })

  it('goes on at the last berth where the record ends, from today where the boat is ashore', () => {
    const ashore = calendar([at(0, 900, 'A'), at(900, null, null)])
    expect(ashore.between(900, AS_OF).days).toBe(0)
    expect(ashore.between(AS_OF, AS_OF + 30)).toEqual({ days: 30, byBerth: new Map([['A', 30]]) })
  })

  it('keeps a boat ashore until its relaunch where that is known', () => {
    const planned = calendar([at(0, 900, 'A'), at(900, AS_OF + 40, null)])
    expect(planned.between(AS_OF, AS_OF + 100).days).toBe(60)
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
        expect(whole.between(a, b).days + whole.between(b, c).days).toBe(whole.between(a, c).days)
      }),
    )
  })

  it('finds the day of an exposure, forwards and backwards: the inverse of counting', () => {
    fc.assert(
      fc.property(stays, day, fc.integer({ min: 1, max: 900 }), (list, start, exposure) => {
        const boat = calendar(fromLengths(list))
        const later = boat.dayAtExposure(start, exposure, FAR)!
        expect(boat.between(start, later).days).toBe(exposure)
        const earlier = boat.dayAtExposure(start, -exposure, FAR)!
        expect(boat.between(earlier, start).days).toBe(exposure)
      }),
    )
  })

  it('knows no day beyond the horizon', () => {
    expect(calendar([]).dayAtExposure(0, 500, 499)).toBeNull()
    expect(calendar([]).dayAtExposure(0, 500, 500)).toBe(500)
  })
})
