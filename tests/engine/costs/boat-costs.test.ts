import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CostEvent, costsOf, type Price, type PricedThing } from '../../../src/engine/costs/boat-costs.js'

const part = (massG: number | null, shape: string | null = 'block', alloy: 'zinc' | null = 'zinc'): PricedThing => ({
  kind: 'part',
  alloy,
  shape,
  massG,
})
const LIFT: PricedThing = { kind: 'lift' }
const price = (what: PricedThing, cents: number, since = '2030-01-01'): Price => ({ what, cents, since })
const centsOf = (what: PricedThing, prices: readonly Price[], on = '2031-05-01') =>
  costsOf([{ on, what }], prices).lines[0]!.cents

describe('what something cost', () => {
  it('is the price of its day, not of today', () => {
    const prices = [price(LIFT, 20_000), price(LIFT, 24_000, '2031-03-01')]
    expect(centsOf(LIFT, prices, '2031-02-28')).toBe(20_000)
    expect(centsOf(LIFT, prices, '2031-03-01')).toBe(24_000)
    expect(centsOf(LIFT, prices, '2029-12-31')).toBeNull()
  })

  it('goes by the price that names the part most closely', () => {
    const prices = [
      price(part(null, null, null), 1000),
      price(part(null, null), 2000, '2031-01-01'),
      price(part(null), 3000),
      price(part(1200), 3850),
      price(part(1250), 3990),
    ]
    expect(centsOf(part(1190), prices)).toBe(3850)
    expect(centsOf(part(1240), prices)).toBe(3990)
    expect(centsOf(part(5000), prices)).toBe(3000)
    expect(centsOf(part(1190, 'disc'), prices)).toBe(2000)
    expect(centsOf(part(1190, 'disc'), prices, '2030-06-01')).toBe(1000)
    expect(centsOf(part(null), prices)).toBe(3000)
  })

  it('takes castings of one part for one, and others not', () => {
    expect(centsOf(part(1090), [price(part(1000), 100)])).toBe(100)
    expect(centsOf(part(1110), [price(part(1000), 100)])).toBeNull()
    expect(centsOf(part(1000), [price(LIFT, 100)])).toBeNull()
    expect(centsOf(LIFT, [price(part(null, null, null), 100)])).toBeNull()
  })

  const things = fc.constantFrom(LIFT, part(1000), part(1050), part(null), part(1000, 'disc'), part(2000, null, null))
  const days = fc
    .integer({ min: 0, max: 900 })
    .map((day) => new Date(Date.UTC(2030, 0, 1 + day)).toISOString().slice(0, 10))
  const priceLists = fc.uniqueArray(
    fc.record({ what: things, since: days, cents: fc.integer({ min: 0, max: 100_000 }) }),
    { selector: ({ what, since }) => JSON.stringify([what, since]), maxLength: 8 },
  )
  const eventLists = fc.array(fc.record({ on: days, what: things }), { maxLength: 12 })

  it('adds up, line by line, whatever the order of the prices', () => {
    fc.assert(
      fc.property(eventLists, priceLists, fc.func(fc.integer()), (events: CostEvent[], prices, order) => {
        const costs = costsOf(events, prices)
        const known = costs.lines.flatMap(({ cents }) => cents ?? [])
        expect(costs.totalCents).toBe(known.reduce((sum, cents) => sum + cents, 0))
        expect(costs.unpriced + known.length).toBe(events.length)
        const shuffled = prices.toSorted((a, b) => order(JSON.stringify(a)) - order(JSON.stringify(b)))
        expect(costsOf(events, shuffled)).toEqual(costs)
      }),
    )
  })

  it('never rests on a price that had not begun', () => {
    fc.assert(
      fc.property(eventLists, priceLists, (events: CostEvent[], prices) => {
        const begun = (on: string) => prices.filter(({ since }) => since <= on)
        for (const { event, cents } of costsOf(events, prices).lines)
          expect(centsOf(event.what, begun(event.on), event.on)).toBe(cents)
      }),
    )
  })
})
