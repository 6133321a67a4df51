import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lifeYears, requiredMass } from '../../../src/engine/sizing/required-mass.js'

const KG_PER_LB = 0.45359237
const HOURS_PER_YEAR = 8760
const DAYS_PER_YEAR = 365
/** Capacity behind a consumption printed in pounds per ampere and year. */
const capacityOf = (lbPerAYear: number) => HOURS_PER_YEAR / (lbPerAYear * KG_PER_LB)

describe('requiredMass', () => {
  // "Design Calculation of Terminal A" (harbour, to DNV-RP-B401): 20.31 A over 15 years, 2000 A·h/kg, utilisation 0.9: 1482.63 kg.
  // It puts the initial current where the practice wants the mean: a check of the arithmetic only.
  it('agrees with a harbour calculation', () => {
    expect(Math.abs(requiredMass(20.31, 15, 2000, 0.9) - 1482.63)).toBeLessThan(0.005)
  })

  // MIL-HDBK-1004/10 p. 186: 0.858 A over 15 years, magnesium of 8.8 lb per A·year and an efficiency of 0.50: 227 lb.
  it('agrees with the military handbook on magnesium', () => {
    expect(Math.abs(requiredMass(0.858, 15, capacityOf(8.8) * 0.5, 1) / KG_PER_LB - 227)).toBeLessThan(0.5)
  })

  // MIL-HDBK-1004/10 p. 209: a pier, 5600 ft² in water at 2 and 3500 ft² in mud at 1 mA/ft²: 14.7 A; 10 years of aluminium at
  // 7.6 lb per A·year, its efficiency within: 1117.2 lb.
  it('agrees with the military handbook on a pier', () => {
    const currentA = (5600 * 2 + 3500 * 1) / 1000
    expect(currentA).toBeCloseTo(14.7, 10)
    expect(Math.abs(requiredMass(currentA, 10, capacityOf(7.6), 1) / KG_PER_LB - 1117.2)).toBeLessThan(0.05)
  })

  // A corporate corrosion manual (1999), p. 1200-50: 23.8 A over 20 years at 8.94 lb per A·year: "4260 lb", the product is 4255.4.
  it('agrees with a pipeline manual', () => {
    expect(Math.abs(requiredMass(23.8, 20, capacityOf(8.94), 1) / KG_PER_LB - 4260)).toBeLessThan(5)
  })

  // "Zinc anode weight computation" (sizing sheet for boats): W[lb] = ft²·mA/ft²·h/(1000·A·h per lb). Hull of medium displacement,
  // 0.75·36 ft·(12 + 4) ft = 432 ft², 2 mA/ft², 8766 h: 20.58 lb of zinc (368 A·h/lb), 6.84 lb of aluminium (1108 A·h/lb).
  it('agrees with the sheet for small craft', () => {
    const currentA = (0.75 * 36 * (12 + 4) * 2) / 1000
    const years = 8766 / HOURS_PER_YEAR
    expect(Math.abs(requiredMass(currentA, years, 368 / KG_PER_LB, 1) / KG_PER_LB - 20.58)).toBeLessThan(0.005)
    expect(Math.abs(requiredMass(currentA, years, 1108 / KG_PER_LB, 1) / KG_PER_LB - 6.84)).toBeLessThan(0.0051)
  })

  it('refuses by name', () => {
    expect(() => requiredMass(-1, 1, 780, 0.8)).toThrow(expect.objectContaining({ quantity: 'current' }))
    expect(() => requiredMass(1, Number.NaN, 780, 0.8)).toThrow(expect.objectContaining({ quantity: 'life' }))
    expect(() => requiredMass(1, 1, 0, 0.8)).toThrow(expect.objectContaining({ quantity: 'capacity' }))
    expect(() => requiredMass(1, 1, 780, 1.01)).toThrow(expect.objectContaining({ quantity: 'utilisation' }))
    expect(() => requiredMass(1e308, 1e308, 780, 0.8)).toThrow(expect.objectContaining({ quantity: 'mass' }))
  })
})

describe('lifeYears', () => {
  // Plain arithmetic with the design capacity of zinc (DNV-RP-B401 Table 10-6): 900 g at 0.02 A waste 0.6154 g a day; to 0.8 used
  // 1170 days, to half 731.2.
  it('tells the life of a shaft collar', () => {
    expect(lifeYears(0.9, 0.02, 780, 0.8) * DAYS_PER_YEAR).toBeCloseTo(1170, 6)
    expect(Math.abs(lifeYears(0.9, 0.02, 780, 0.5) * DAYS_PER_YEAR - 731.2)).toBeLessThan(0.051)
  })

  it('undoes the required mass and is proportional to the mass', () => {
    const some = fc.double({ min: 1e-3, max: 1e3, noNaN: true })
    const share = fc.double({ min: 0.05, max: 1, noNaN: true })
    fc.assert(
      fc.property(some, some, some, share, (currentA, years, capacity, utilisation) => {
        const mass = requiredMass(currentA, years, capacity, utilisation)
        expect(lifeYears(mass, currentA, capacity, utilisation) / years).toBeCloseTo(1, 12)
        expect(lifeYears(3 * mass, currentA, capacity, utilisation) / years).toBeCloseTo(3, 11)
      }),
    )
  })

  it('refuses a current of 0: it would last for ever', () => {
    expect(() => lifeYears(1, 0, 780, 0.8)).toThrow(expect.objectContaining({ quantity: 'current' }))
  })
})
