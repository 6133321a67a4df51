import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { firstWaking, localDay } from '../../../src/engine/notices/quiet-hours.js'

const NIGHT = { from: 20, to: 8 }
const hourIn = (timeZone: string, at: Date) =>
  Number(new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', hourCycle: 'h23' }).format(at))

describe('firstWaking', () => {
  it('lets a letter of the day go at once, and one of the night wait for the morning', () => {
    const noon = new Date('2026-07-01T10:00:00Z')
    expect(firstWaking(noon, 'Europe/Berlin', NIGHT)).toBe(noon)
    expect(firstWaking(new Date('2026-07-01T22:30:00Z'), 'Europe/Berlin', NIGHT).toISOString()).toBe(
      '2026-07-02T06:00:00.000Z',
    )
  })

  it('keeps to the morning on the nights when clocks change', () => {
    // Central European Time: forward on 29 March 2026, back on 25 October 2026, at 01:00 UTC (EU directive 2000/84/EC).
    expect(firstWaking(new Date('2026-03-28T21:00:00Z'), 'Europe/Berlin', NIGHT).toISOString()).toBe(
      '2026-03-29T06:00:00.000Z',
    )
    expect(firstWaking(new Date('2026-10-24T21:00:00Z'), 'Europe/Berlin', NIGHT).toISOString()).toBe(
      '2026-10-25T07:00:00.000Z',
    )
  })

  it('never lies in the quiet hours, never before, and never more than a day and an hour later', () => {
    const zones = fc.constantFrom('Europe/Berlin', 'Pacific/Auckland', 'America/St_Johns', 'Asia/Kathmandu', 'UTC')
    const instants = fc.date({ min: new Date('2026-01-01'), max: new Date('2027-12-31'), noInvalidDate: true })
    const hours = fc.integer({ min: 0, max: 23 })
    fc.assert(
      fc.property(zones, instants, hours, hours, (zone, from, start, end) => {
        const at = firstWaking(from, zone, { from: start, to: end })
        expect(at.getTime()).toBeGreaterThanOrEqual(Math.floor(from.getTime() / 60_000) * 60_000)
        expect(at.getTime() - from.getTime()).toBeLessThanOrEqual(25 * 3_600_000)
        const hour = hourIn(zone, at)
        const isQuiet = start < end ? hour >= start && hour < end : start > end && (hour >= start || hour < end)
        expect(isQuiet).toBe(false)
      }),
    )
  })
})

it('localDay is the date on the wall where somebody lives', () => {
  const at = new Date('2026-05-04T23:30:00Z')
  expect(localDay(at, 'UTC')).toBe('2026-05-04')
  expect(localDay(at, 'Europe/Berlin')).toBe('2026-05-05')
})
