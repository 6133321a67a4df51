import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { ForecastItem } from '../../src/contract/forecasts.js'
import { fleetAxis, placeOn, quartersOn, spanOn } from '../../src/web/pages/fleet/date-axis.js'
import { type FleetFilter, fleetRows, narrowRows, orderRows } from '../../src/web/pages/fleet/fleet-rows.js'
import { forecastOf } from './forecast-of.js'

const EVERYTHING: FleetFilter = { search: '', pontoon: '', alloy: '', dueWithinDays: null }
const PONTOONS = new Map([['A1', 'Lantern']])

const day = fc.integer({ min: 0, max: 20_000 }).map((days) => new Date(days * 86_400_000).toISOString().slice(0, 10))
const forecast = fc
  .record({
    boat: fc.constantFrom('Wren', 'Teal', 'Auk'),
    p50: fc.option(day),
    risk: fc.double({ min: 0, max: 1, noNaN: true }),
  })
  .map(({ boat, p50, risk }) => forecastOf({ boat, riskBeforeNextHaulOut: risk }, { p50 }))

describe('the rows of the fleet list', () => {
  it('hold every anode once, under its boat', () => {
    fc.assert(
      fc.property(fc.array(forecast), (items) => {
        const rows = fleetRows(items, PONTOONS)
        expect(rows.flatMap((row) => row.anodes).toSorted(bySomeOrder)).toEqual(items.toSorted(bySomeOrder))
        expect(rows.every((row) => row.anodes.every((anode) => anode.boat === row.boat))).toBe(true)
        expect(new Set(rows.map((row) => row.boat)).size).toBe(rows.length)
      }),
    )
  })

  it('come by the first expected date, those never expected last', () => {
    fc.assert(
      fc.property(fc.array(forecast), (items) => {
        const dates = orderRows(fleetRows(items, PONTOONS), 'replacement').map((row) => row.anodes[0].replace.p50)
        const known = dates.filter((date) => date !== null)
        expect(known).toEqual(known.toSorted())
        expect(dates.slice(known.length).every((date) => date === null)).toBe(true)
      }),
    )
  })

  it('carry the highest risk of the boat', () => {
    fc.assert(
      fc.property(fc.array(forecast, { minLength: 1 }), (items) => {
        for (const row of fleetRows(items, PONTOONS)) {
          const risks = row.anodes.map((anode) => anode.riskBeforeNextHaulOut)
          expect(row.riskiest?.riskBeforeNextHaulOut).toBe(Math.max(...risks))
        }
      }),
    )
  })
})

describe('narrowing the fleet list', () => {
  const rows = fleetRows(
    [
      forecastOf({ boat: 'Wren', anode: 'shaft 1', berth: 'A1', alloy: 'zinc' }, { p50: '2031-05-01' }),
      forecastOf({ boat: 'Wren', anode: 'hull 1', berth: 'A1', alloy: 'aluminium' }, { p50: '2031-09-01' }),
      forecastOf({ boat: 'Teal', anode: 'shaft 1', berth: 'B7', alloy: 'zinc' }, { p50: null }),
    ],
    PONTOONS,
  )
  const boatsOf = (filter: Partial<FleetFilter>) =>
    narrowRows(rows, { ...EVERYTHING, ...filter }).map((row) => row.boat)

  it('changes nothing when nothing is asked', () => {
    expect(narrowRows(rows, EVERYTHING)).toEqual(rows)
  })

  it.each([
    [{ search: 'wre' }, ['Wren']],
    [{ search: 'b7' }, ['Teal']],
    [{ search: 'shaft teal' }, ['Teal']],
    [{ search: 'nobody' }, []],
    [{ pontoon: 'Lantern' }, ['Wren']],
    [{ alloy: 'aluminium' as const }, ['Wren']],
    [{ dueWithinDays: 30 }, ['Wren']],
    [{ dueWithinDays: 0 }, []],
  ])('by %j leaves %j', (filter, boats) => {
    expect(boatsOf(filter)).toEqual(boats)
  })

  it('puts the anode of the alloy asked for in front', () => {
    expect(narrowRows(rows, { ...EVERYTHING, alloy: 'aluminium' })[0]?.anodes[0].anode).toBe('hull 1')
  })
})

describe('the date axis', () => {
  const axis = fleetAxis('2031-04-18')

  it('begins and ends with a month, today between', () => {
    expect(axis).toEqual({ from: '2031-01-01', to: '2032-10-01' })
    expect(placeOn(axis, axis.from)).toBe(0)
    expect(placeOn(axis, axis.to)).toBe(1)
  })

  it('names the quarters that lie within', () => {
    expect(quartersOn(axis)).toEqual([
      '2031-04-01',
      '2031-07-01',
      '2031-10-01',
      '2032-01-01',
      '2032-04-01',
      '2032-07-01',
    ])
  })

  it('cuts a span at its ends and says so', () => {
    expect(spanOn(axis, '2030-01-01', '2031-01-01')).toEqual({ start: 0, end: 0, cut: 'before' })
    expect(spanOn(axis, '2030-01-01', null)).toEqual({ start: 0, end: 1, cut: 'both' })
    expect(spanOn(axis, '2033-01-01', '2034-01-01')).toBeNull()
    expect(spanOn(axis, null, null)).toBeNull()
  })
})

const bySomeOrder = (a: ForecastItem, b: ForecastItem) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1)
