import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  alloyProbabilities,
  metalDensityOf,
  sdsFromNearestAlloy,
  waterDensityOf,
} from '../../../src/engine/electrochemistry/density.js'

const exactly = (value: number) => ({ value, sd: 0 })
const plain = { coreMassG: 0, resolutionG: 0 }

describe('metalDensityOf', () => {
  // CCI Notes 9/10: density = density of the water × dry / (dry − submerged). An anode of 100 cm³ of pure aluminium
  // (2.70 g/cm³ on public tables) in water of 1 g/cm³ weighs 270 g dry and 170 g hanging.
  it('finds the density of a known body', () => {
    expect(metalDensityOf({ dryG: 270, submergedG: 170, water: exactly(1), ...plain }).value).toBeCloseTo(2.7, 12)
  })

  // The same rule, with the density of salt water at 20 °C and of fresh water at 15 °C by EOS-80. Submerged masses are given
  // to 0.1 g, which is 0.01 g/cm³ of zinc and 0.003 of aluminium.
  it('finds zinc in the sea and aluminium in a lake', () => {
    const zinc = metalDensityOf({ dryG: 500, submergedG: 428.2, water: exactly(1.0247), ...plain })
    const aluminium = metalDensityOf({ dryG: 300, submergedG: 191, water: exactly(0.9991), ...plain })
    expect(Math.abs(zinc.value - 7.14)).toBeLessThan(0.01)
    expect(Math.abs(aluminium.value - 2.75)).toBeLessThan(0.003)
  })

  // A body made up of two known ones: 360 g of 1.84 g/cm³ round 60 g of steel of 7.86 g/cm³, in water of 0.9991 g/cm³.
  it('takes a steel core off', () => {
    const volumeCm3 = 360 / 1.84 + 60 / 7.86
    const weighing = { dryG: 420, submergedG: 420 - 0.9991 * volumeCm3, water: exactly(0.9991), resolutionG: 0 }
    expect(metalDensityOf({ ...weighing, coreMassG: 60 }).value).toBeCloseTo(1.84, 9)
    expect(metalDensityOf({ ...weighing, coreMassG: 0 }).value).toBeGreaterThan(2)
  })

  // Standard deviation by the law of propagation (JCGM 100:2008, 5.1.2) written as relative errors, with the reading's
  // spread of a step d as d/√12 (F.2.2.1): √((s/m)²(m_s/V)² + (s/V)² + (ds/ρ)²), V = m − m_s in grams.
  it('propagates the scale and the water', () => {
    const { value, sd } = metalDensityOf({
      dryG: 500,
      submergedG: 428.2,
      water: { value: 1.0247, sd: 0.002 },
      coreMassG: 0,
      resolutionG: 1,
    })
    const s = 1 / Math.sqrt(12)
    const relative = Math.hypot((s / 500) * (428.2 / 71.8), s / 71.8, 0.002 / 1.0247)
    expect(sd / value).toBeCloseTo(relative, 12)
  })

  it('does not change when both masses are of an anode twice the size', () => {
    const mass = fc.double({ min: 10, max: 1e5, noNaN: true })
    fc.assert(
      fc.property(mass, fc.double({ min: 0.3, max: 0.9, noNaN: true }), mass, (dryG, share, factor) => {
        const one = { dryG, submergedG: dryG * share, water: exactly(1.02), coreMassG: dryG * 0.05, resolutionG: 1 }
        const scaled = {
          dryG: one.dryG * factor,
          submergedG: one.submergedG * factor,
          water: one.water,
          coreMassG: one.coreMassG * factor,
          resolutionG: factor,
        }
        const [a, b] = [metalDensityOf(one), metalDensityOf(scaled)]
        expect(Math.abs(b.value / a.value - 1)).toBeLessThan(1e-9)
        expect(Math.abs(b.sd / a.sd - 1)).toBeLessThan(1e-9)
      }),
    )
  })

  const good = { dryG: 500, submergedG: 430, water: exactly(1), coreMassG: 20, resolutionG: 1 }
  it.each([
    [{ dryG: 0 }, 'dry mass'],
    [{ submergedG: 500 }, 'submerged mass'],
    [{ submergedG: -1 }, 'submerged mass'],
    [{ coreMassG: 500 }, 'core mass'],
    [{ submergedG: 499, coreMassG: 400 }, 'core mass'],
    [{ resolutionG: -1 }, 'resolution'],
    [{ water: exactly(0) }, 'water density'],
  ])('refuses %j', (change, quantity) => {
    expect(() => metalDensityOf({ ...good, ...change })).toThrow(expect.objectContaining({ quantity }))
  })
})

describe('waterDensityOf', () => {
  // UNESCO Technical Papers in Marine Science 44 (1983): seawater of 35 psu is near 1026 kg/m³ at 15 °C, pure water 999.1;
  // both stay within 0.3 % between 5 and 25 °C.
  it('knows the sea from a lake', () => {
    expect(Math.abs(waterDensityOf('salt').value - 1.026)).toBeLessThan(0.0005)
    expect(Math.abs(waterDensityOf('fresh').value - 0.9991)).toBeLessThan(0.0005)
    expect(waterDensityOf('salt').sd).toBeLessThan(0.003)
  })
})

describe('alloyProbabilities', () => {
  const first = (value: number, sd: number) => alloyProbabilities({ value, sd })[0]

  // Public density tables: zinc 7.13–7.14, aluminium 2.70, magnesium 1.74 g/cm³.
  it.each([
    [7.13, 'zinc'],
    [2.7, 'aluminium'],
    [1.74, 'magnesium'],
  ])('takes %d g/cm³ for %s', (density, alloy) => {
    expect(first(density, 0.03)).toMatchObject({ alloy })
    expect(first(density, 0.03)?.probability).toBeGreaterThan(0.99)
  })

  it('sums to one and is in order, however far off the density', () => {
    const density = fc.double({ min: 0.1, max: 25, noNaN: true })
    fc.assert(
      fc.property(density, fc.double({ min: 0, max: 10, noNaN: true }), (value, sd) => {
        const probabilities = alloyProbabilities({ value, sd }).map((entry) => entry.probability)
        expect(probabilities.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12)
        expect([...probabilities].sort((a, b) => b - a)).toEqual(probabilities)
      }),
    )
  })

  it('tells nothing apart when the weighing tells nothing', () => {
    for (const { probability } of alloyProbabilities({ value: 4, sd: 1e6 })) expect(probability).toBeCloseTo(1 / 3, 4)
  })

  it('refuses a density that is not positive', () => {
    expect(() => alloyProbabilities(exactly(0))).toThrow(expect.objectContaining({ quantity: 'density' }))
    expect(() => alloyProbabilities({ value: 1, sd: -1 })).toThrow(
      expect.objectContaining({ quantity: 'standard deviation' }),
    )
  })
})

describe('sdsFromNearestAlloy', () => {
  // Public density tables: brass 8.4, lead 11.3 g/cm³ are no anode alloys.
  it.each([8.4, 11.3])('is far for %d g/cm³', (value) => {
    expect(sdsFromNearestAlloy({ value, sd: 0.05 })).toBeGreaterThan(5)
  })

  it('is near for zinc', () => {
    expect(sdsFromNearestAlloy({ value: 7.13, sd: 0.05 })).toBeLessThan(1)
  })
})
