import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  fittingUseOf,
  type ProtectedFitting,
  physicsMassRate,
  protectionDemand,
} from '../../../src/engine/electrochemistry/protection-demand.js'
import { GALVANIC_METALS, type GalvanicMetal } from '../../../src/engine/reference/galvanic-series.js'

const fitting = (metal: GalvanicMetal, areaCm2: number, change: Partial<ProtectedFitting> = {}): ProtectedFitting => ({
  fitting: metal,
  metal,
  areaCm2,
  coated: false,
  bonded: true,
  use: 'at-rest',
  ...change,
})

const currentOf = (fittings: ProtectedFitting[], coatingYears?: number) => {
  const demand = protectionDemand(fittings, coatingYears)
  if (demand.kind === 'unknown') throw new Error('expected an estimate')
  return demand
}

describe('protectionDemand', () => {
  // DNV-RP-B401 Tables 10-1, 10-2 (from memory): bare steel, 7–11 °C, 0–30 m, mean 0.100 A/m². One square metre asks 0.1 A.
  it('asks the mean current of bare steel', () => {
    expect(currentOf([fitting('mild-steel', 10_000)]).currentA).toBeCloseTo(0.1, 12)
  })

  // "Zinc anode weight computation" (sizing sheet for boats): painted steel 1.5–5.0 mA/ft², painted aluminium up to 3.0 mA/ft².
  it('asks of painted hulls what the boat sheet prints', () => {
    const FT2_PER_M2 = 10.7639
    const steel = currentOf([fitting('mild-steel', 10_000, { coated: true })]).currentA / FT2_PER_M2
    const aluminium = currentOf([fitting('aluminium-alloy', 10_000, { coated: true })]).currentA / FT2_PER_M2
    expect(steel).toBeGreaterThanOrEqual(0.0015)
    expect(steel).toBeLessThanOrEqual(0.005)
    expect(aluminium).toBeGreaterThanOrEqual(0.0002)
    expect(aluminium).toBeLessThanOrEqual(0.003)
  })

  // DNV-RP-B401 Table 10-4, read in a harbour calculation: category I, a = b = 0.10. One year from new, mean 0.15. Over 15
  // years the paint is through after 9: mean (9 × 0.55 + 6 × 1)/15 = 0.73.
  it('lets the coating through as it ages', () => {
    const bare = currentOf([fitting('silicon-bronze', 500)]).currentA
    const painted = fitting('silicon-bronze', 500, { coated: true })
    expect(currentOf([painted], 0).currentA / bare).toBeCloseTo(0.1, 12)
    expect(currentOf([painted], 1).currentA / bare).toBeCloseTo(0.15, 12)
    expect(currentOf([painted], 15).currentA / bare).toBeCloseTo(0.73, 12)
  })

  it('asks more of a turning propeller than of one at rest', () => {
    const turning = currentOf([fitting('nickel-aluminium-bronze', 900, { use: 'turning' })])
    expect(turning.fittings[0]?.demand).toBe('nickel-aluminium-bronze-propeller')
    expect(turning.currentA).toBeGreaterThan(currentOf([fitting('nickel-aluminium-bronze', 900)]).currentA)
  })

  it('tells which fittings were left out and why', () => {
    const demand = currentOf([
      fitting('stainless-316-passive', 2000),
      fitting('graphite', 100),
      fitting('zinc', 100),
      fitting('copper', 100, { bonded: false }),
      fitting('copper', 100, { fitting: 'no area', areaCm2: null }),
      fitting('copper', 100, { fitting: 'no metal', metal: null }),
    ])
    expect(demand.fittings.map((entry) => entry.fitting)).toEqual(['stainless-316-passive'])
    expect(demand.unjudged).toEqual([
      { fitting: 'graphite', reason: 'no-published-demand' },
      { fitting: 'zinc', reason: 'sacrificial' },
      { fitting: 'copper', reason: 'not-bonded' },
      { fitting: 'no area', reason: 'area-unknown' },
      { fitting: 'no metal', reason: 'metal-unknown' },
    ])
  })

  it('is unknown where nothing can be judged', () => {
    expect(protectionDemand([])).toEqual({ kind: 'unknown', unjudged: [] })
    expect(protectionDemand([fitting('graphite', 100)]).kind).toBe('unknown')
  })

  it('is the sum of its fittings and grows with the areas', () => {
    const metal = fc.constantFrom(...GALVANIC_METALS)
    const some = fc.record({ metal, areaCm2: fc.double({ min: 1, max: 1e6, noNaN: true }), coated: fc.boolean() })
    fc.assert(
      fc.property(fc.array(some, { minLength: 1 }), (list) => {
        const fittings = list.map(({ metal, areaCm2, coated }) => fitting(metal, areaCm2, { coated }))
        const demand = protectionDemand([...fittings, fitting('mild-steel', 1)])
        const twice = protectionDemand([...fittings, fitting('mild-steel', 1), ...fittings, fitting('mild-steel', 1)])
        if (demand.kind === 'unknown' || twice.kind === 'unknown') throw new Error('steel can be judged')
        expect(twice.currentA / demand.currentA).toBeCloseTo(2, 9)
        expect(demand.fittings.length + demand.unjudged.length).toBe(fittings.length + 1)
      }),
    )
  })

  it('refuses an area that is not positive', () => {
    expect(() => protectionDemand([fitting('copper', 0)])).toThrow(
      expect.objectContaining({ quantity: 'area of copper' }),
    )
    expect(() => protectionDemand([], -1)).toThrow(expect.objectContaining({ quantity: 'coating age' }))
  })
})

describe('physicsMassRate', () => {
  // Plain arithmetic with the design capacity of zinc, 780 A·h/kg (DNV-RP-B401 Table 10-6): 0.05 A for 180 d take 276.92 g.
  it('wastes zinc by its design capacity', () => {
    expect(physicsMassRate(0.05, 'zinc') * 180).toBeCloseTo(276.92, 2)
  })

  // Common practice: the shaft anode of a small sailing boat in salt water lasts about a year. One of 0.45 kg of zinc, half of
  // it to be used, on 0.25 m² of shaft, propeller and skin fittings: within the factor of 3 that the tables claim.
  it('wears half a shaft anode in about a year', () => {
    const demand = currentOf([
      fitting('stainless-316-passive', 1600),
      fitting('manganese-bronze', 600, { use: 'turning' }),
      fitting('silicon-bronze', 300),
    ])
    const years = 225 / physicsMassRate(demand.currentA, 'zinc') / 365
    expect(years).toBeGreaterThan(1 / 3)
    expect(years).toBeLessThan(3)
  })
})

describe('fittingUseOf', () => {
  it.each([
    ['propeller', 'turning'],
    ['Prop, port', 'turning'],
    ['propeller shaft', 'at-rest'],
    ['keel', 'at-rest'],
  ])('takes %s to be %s', (name, use) => expect(fittingUseOf(name)).toBe(use))
})
