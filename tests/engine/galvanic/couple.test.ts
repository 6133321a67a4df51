import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { activeRowOf, type Couple, couple, couplesOf } from '../../../src/engine/galvanic/couple.js'
import { PAIR_GRADES } from '../../../src/engine/reference/galvanic-grades.js'
import { GALVANIC_METALS, GALVANIC_SERIES, type GalvanicMetal } from '../../../src/engine/reference/galvanic-series.js'
import { WATERS } from '../../../src/engine/reference/vocabulary.js'

const of = (metal: GalvanicMetal, areaCm2: number | null = 100) => ({ metal, areaCm2 })
const metals = fc.constantFrom(...GALVANIC_METALS)
const areas = fc.double({ min: 0.1, max: 1e6, noNaN: true })
const codesOf = ({ reasons }: Pick<Couple, 'reasons'>) => reasons.map(({ code }) => code)
const severity = (grade: string) => PAIR_GRADES.indexOf(grade as (typeof PAIR_GRADES)[number])

describe('the difference of two metals', () => {
  // Australasian Corrosion Association, "Seawater corrosion", flowing seawater, V against saturated calomel: copper −0.37 to
  // −0.30, zinc −1.03 to −0.98, mild steel −0.72 to −0.60, 316 passive −0.10 to 0, 316 active −0.46 to −0.33, silicon bronze
  // −0.29 to −0.25, graphite +0.20 to +0.30, aluminium −1.00 to −0.76. By hand: lowest upper less highest lower, and the widest.
  it.each([
    ['copper', 'zinc', 0.61, 0.73],
    ['copper', 'mild-steel', 0.23, 0.42],
    ['stainless-316-passive', 'silicon-bronze', 0.15, 0.29],
    ['silicon-bronze', 'stainless-316-active', 0.04, 0.21],
    ['graphite', 'aluminium-alloy', 0.96, 1.3],
  ] as const)('%s over %s is %d to %d V', (cathode, anode, low, high) => {
    for (const pair of [couple(of(cathode), of(anode), 'salt'), couple(of(anode), of(cathode), 'salt')]) {
      expect([pair.cathode.metal, pair.anode.metal]).toEqual([cathode, anode])
      expect(pair.deltaVolts.low).toBeCloseTo(low, 9)
      expect(pair.deltaVolts.high).toBeCloseTo(high, 9)
      expect(pair.areRolesCertain).toBe(true)
    }
  })

  // The same series: zinc −1.03 to −0.98 lies within aluminium's −1.00 to −0.76 in part.
  it('begins at nothing where the ranges overlap, and the roles are open', () => {
    const pair = couple(of('aluminium-alloy'), of('zinc'), 'salt')
    expect(pair.areRolesCertain).toBe(false)
    expect(pair.deltaVolts.low).toBe(0)
    expect(pair.deltaVolts.high).toBeCloseTo(0.27, 9)
    expect(codesOf(pair)).toContain('pair/overlap')
  })

  it('is the same whichever metal is named first, but for the order of equals', () => {
    fc.assert(
      fc.property(metals, metals, areas, areas, (one, other, a, b) => {
        const there = couple(of(one, a), of(other, b), 'salt')
        const back = couple(of(other, b), of(one, a), 'salt')
        expect(back.deltaVolts).toEqual(there.deltaVolts)
        expect(back.typicalVolts).toBe(there.typicalVolts)
        expect(there.deltaVolts.low).toBeGreaterThanOrEqual(0)
        expect(there.typicalVolts).toBeGreaterThanOrEqual(there.deltaVolts.low - 1e-12)
        expect(there.typicalVolts).toBeLessThanOrEqual(there.deltaVolts.high + 1e-12)
        if (there.typicalVolts > 0) expect(back.grade).toBe(there.grade)
      }),
    )
  })

  it('makes a pair of every two', () => {
    expect(couplesOf([of('copper'), of('zinc'), of('tin'), of('lead')], 'salt')).toHaveLength(6)
  })
})

describe('the grade', () => {
  // Public pages on the anodic index: up to 0.15 V is tolerated in salt surroundings.
  it('is compatible up to the limit for salt water, whatever the areas', () => {
    const near = couple(of('copper', 1e6), of('naval-brass', 1), 'salt')
    expect(near.grade).toBe('compatible')
    expect(couple(of('copper', null), of('naval-brass', null), 'salt').grade).toBe('compatible')
  })

  it('never calls a pair compatible whose middles lie further apart than that', () => {
    fc.assert(
      fc.property(metals, metals, areas, areas, fc.constantFrom(...WATERS), (one, other, a, b, water) => {
        const pair = couple(of(one, a), of(other, b), water)
        expect(pair.grade === 'compatible').toBe(pair.typicalVolts <= 0.15 + 1e-9)
      }),
    )
  })

  // MIL-STD-1250A on dissimilar metals: a small anodic area relative to the cathodic one should be avoided.
  it('is never better with a larger cathode', () => {
    fc.assert(
      fc.property(
        metals,
        metals,
        areas,
        areas,
        fc.double({ min: 1, max: 1e3, noNaN: true }),
        (one, other, a, b, by) => {
          const pair = couple(of(one, a), of(other, b), 'salt')
          const larger = couple({ ...pair.cathode, areaCm2: pair.cathode.areaCm2! * by }, pair.anode, 'salt')
          expect(severity(larger.grade)).toBeGreaterThanOrEqual(severity(pair.grade))
        },
      ),
    )
  })

  // MIL-STD-1250A: screws of stainless steel in aluminium sheet, but not the reverse. A note of a materials consultancy: an
  // anode a hundred times larger prevents the attack or at least minimises it.
  it('tells stainless screws in aluminium from aluminium screws in stainless', () => {
    const screws = couple(of('stainless-316-passive', 2), of('aluminium-alloy', 5000), 'salt')
    const reverse = couple(of('stainless-316-passive', 5000), of('aluminium-alloy', 2), 'salt')
    expect([screws.grade, reverse.grade]).toEqual(['fair', 'severe'])
    expect(reverse.areaRatio).toBe(2500)
    expect(reverse.reasons).toContainEqual({ code: 'areas/worse', values: { times: 2500 } })
    expect(screws.reasons).toContainEqual({ code: 'areas/better', values: { inverse: 2500 } })
  })

  it('is unknown where an area is, unless no area would matter', () => {
    const open = couple(of('copper', null), of('mild-steel', 10), 'salt')
    expect([open.grade, open.areaRatio]).toEqual(['unknown', null])
    const values = { grade: 'poor', best: 'fair', worst: 'severe' }
    expect(open.reasons).toContainEqual({ code: 'areas/open', values })
  })

  it('counts no areas in fresh water and says that the series is of seawater', () => {
    const fresh = couple(of('copper', 1000), of('mild-steel', 1), 'fresh')
    expect(fresh.grade).toBe('poor')
    expect(codesOf(fresh)).toEqual(['pair/apart', 'areas/not-counted', 'water/fresh'])
  })

  it('says of zinc that it is there to waste', () => {
    const { reasons } = couple(of('copper'), of('zinc'), 'salt')
    expect(reasons).toContainEqual({ code: 'pair/sacrificial', values: { metal: 'zinc' } })
  })

  it.each([0, -1, NaN, Infinity])('refuses an area of %d', (area) => {
    expect(() => couple(of('copper', area), of('zinc'), 'salt')).toThrow(/area/)
  })
})

describe('a metal that may lose its film', () => {
  it('is judged a second time on its active row, of which there is one for each grade but alloy 20', () => {
    const passive = GALVANIC_SERIES.filter(({ state }) => state === 'passive').map(({ key }) => key)
    const without = passive.filter((key) => activeRowOf(key) === undefined)
    expect(without).toEqual(['stainless-alloy-20'])
    expect(activeRowOf('mild-steel')).toBeUndefined()
    expect(activeRowOf('stainless-316-active')).toBeUndefined()
  })

  it('may turn from cathode to anode', () => {
    const { anode, whenFilmLost } = couple(of('stainless-316-passive'), of('silicon-bronze'), 'salt')
    expect(anode.metal).toBe('silicon-bronze')
    expect(whenFilmLost).toMatchObject([{ active: 'stainless-316-active', anode: { metal: 'stainless-316-active' } }])
  })

  it('stands beside another that may lose its own', () => {
    const { whenFilmLost } = couple(of('stainless-316-passive'), of('stainless-304-passive'), 'salt')
    expect(whenFilmLost.map(({ active }) => active)).toEqual(['stainless-316-active', 'stainless-304-active'])
  })
})
