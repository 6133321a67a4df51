import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { corrosionRate } from '../../../src/engine/electrochemistry/corrosion-rate.js'
import { CORROSION_RATE_CONSTANTS } from '../../../src/engine/reference/corrosion-rate-constants.js'

const CM2_PER_IN2 = 6.4516

describe('corrosionRate', () => {
  // A textbook problem as a public page solves it: 485 g in a year from 100 in² of a metal of 7.9 g/cm³: 37.4 mil/year,
  // 0.952 mm/year. Half of the last printed digit; the first is cut off (37.477), not rounded.
  it('agrees with a textbook problem', () => {
    const loss = { massLossG: 485, areaCm2: 100 * CM2_PER_IN2, hours: 8760, densityGPerCm3: 7.9 }
    expect(Math.abs(corrosionRate(loss) - 0.952)).toBeLessThan(5e-4)
    expect(Math.abs(corrosionRate(loss, 'mil/year') - 37.4)).toBeLessThan(0.1)
  })

  // Units alone: the same loss in each unit, from the definitions of the units. The constants are rounded to three digits.
  it.each([
    ['mil/year', 1 / 0.0254],
    ['in/year', 1 / 25.4],
    ['in/month', 1 / 25.4 / 12],
    ['µm/year', 1000],
    ['pm/s', 1e9 / (8760 * 3600)],
    ['g/(m²·h)', (7.9 * 1000) / 8760],
    ['mg/(dm²·d)', (7.9 * 1e4 * 24) / 8760],
    ['µg/(m²·s)', (7.9 * 1e9) / (8760 * 3600)],
  ] as const)('says %s as mm/year does', (unit, perMillimetre) => {
    const loss = { massLossG: 12, areaCm2: 40, hours: 2000, densityGPerCm3: 7.9 }
    expect(Math.abs(corrosionRate(loss, unit) / (corrosionRate(loss) * perMillimetre) - 1)).toBeLessThan(0.005)
  })

  it('is the thickness lost: a plate dissolved from one side in a year', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 10, noNaN: true }),
        fc.double({ min: 1, max: 20, noNaN: true }),
        (mm, d) => {
          const loss = { massLossG: 100 * (mm / 10) * d, areaCm2: 100, hours: 8760, densityGPerCm3: d }
          expect(corrosionRate(loss) / mm).toBeCloseTo(1, 9)
        },
      ),
    )
  })

  it('keeps the sign of a piece that gained', () => {
    expect(corrosionRate({ massLossG: -1, areaCm2: 10, hours: 100, densityGPerCm3: 8 })).toBeLessThan(0)
  })

  it.each(['areaCm2', 'hours', 'densityGPerCm3'] as const)('refuses %s of 0', (field) => {
    const loss = { massLossG: 1, areaCm2: 10, hours: 100, densityGPerCm3: 8 }
    expect(() => corrosionRate({ ...loss, [field]: 0 })).toThrow(refusalOf(field))
  })

  it('has one constant a unit', () => {
    expect(new Set(CORROSION_RATE_CONSTANTS.map(({ unit }) => unit)).size).toBe(9)
  })
})

function refusalOf(field: 'areaCm2' | 'hours' | 'densityGPerCm3') {
  const quantity = { areaCm2: 'area', hours: 'time in the water', densityGPerCm3: 'density' }[field]
  return expect.objectContaining({ quantity })
}
