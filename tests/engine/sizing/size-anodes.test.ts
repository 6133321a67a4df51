import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { breakdownFactors, coatingFactors } from '../../../src/engine/electrochemistry/coating-factors.js'
import { designAlloy } from '../../../src/engine/reference/anode-alloys.js'
import { ANODE_ALLOYS } from '../../../src/engine/reference/vocabulary.js'
import { anodeCount, anodeCurrent } from '../../../src/engine/sizing/anode-count.js'
import { braceletResistance, slenderResistance } from '../../../src/engine/sizing/anode-resistance.js'
import {
  type AnodeShape,
  anodeMass,
  finalResistance,
  initialResistance,
  utilisationOf,
} from '../../../src/engine/sizing/anode-shape.js'
import {
  lacksDensities,
  PROTECTED_SURFACES,
  protectionCurrent,
  takesCoating,
} from '../../../src/engine/sizing/protection-current.js'
import { lifeYears } from '../../../src/engine/sizing/required-mass.js'
import { sizeAnodes } from '../../../src/engine/sizing/size-anodes.js'

const LONG_ROD: AnodeShape = { shape: 'rod', lengthM: 1, radiusM: 0.05, coreRadiusM: 0.01, distanceM: 0.3 }
const SHORT_ROD: AnodeShape = { shape: 'rod', lengthM: 0.15, radiusM: 0.05, coreRadiusM: 0, distanceM: 0.2 }
const LONG_PLATE: AnodeShape = { shape: 'plate', lengthM: 0.5, widthM: 0.1, thicknessM: 0.04 }
const SHORT_PLATE: AnodeShape = { shape: 'plate', lengthM: 0.2, widthM: 0.1, thicknessM: 0.03 }
const COLLAR: AnodeShape = { shape: 'other', massKg: 0.9, exposedAreaM2: 0.012 }
const SHAPES = [LONG_ROD, SHORT_ROD, LONG_PLATE, SHORT_PLATE, COLLAR]

describe('coatingFactors', () => {
  // "Cathodic protection design for bracelet anode": a 0.02, b 0.008 a year, 15 years: mean 0.08, final 0.14.
  it('agrees with the bracelet sheet', () => {
    const factors = breakdownFactors({ a: 0.02, bPerYear: 0.008 }, 15)
    expect(factors.mean).toBeCloseTo(0.08, 12)
    expect(factors.final).toBeCloseTo(0.14, 12)
  })

  it('is whole where the paint is through, and averages what it was before', () => {
    const steps = Array.from({ length: 15_000 }, (_, index) => Math.min(1, 0.1 + (0.1 * (index + 0.5)) / 1000))
    const mean = steps.reduce((sum, each) => sum + each, 0) / steps.length
    expect(coatingFactors('I', 15).final).toBe(1)
    expect(coatingFactors('I', 15).mean).toBeCloseTo(mean, 6)
  })

  it('refuses by name', () => {
    expect(() => coatingFactors('I', -1)).toThrow(expect.objectContaining({ quantity: 'coating age' }))
    expect(() => breakdownFactors({ a: 1.1, bPerYear: 0 }, 1)).toThrow(
      expect.objectContaining({ quantity: 'coating factor a' }),
    )
  })
})

describe('protectionCurrent', () => {
  // "Design Calculation of Terminal A": piling of 475 m by 2.5 m with a shape factor of 1.14 is 1353.75 m²; 0.150 A/m² and a
  // coating factor of 0.1 (category I when new): 20.31 A to begin with.
  it('agrees with a harbour calculation', () => {
    const areaM2 = 475 * 2.5 * 1.14
    expect(areaM2).toBeCloseTo(1353.75, 8)
    const { initialA } = protectionCurrent([{ surface: 'bare-steel-tropical', areaM2, coating: 'I' }], 15)
    expect(Math.abs(initialA - 20.31)).toBeLessThan(0.005)
  })

  it('adds up, and takes the mean where no other density is published', () => {
    const steel = { surface: 'bare-steel-temperate', areaM2: 2, coating: 'none' } as const
    const hull = { surface: 'aluminium', areaM2: 10, coating: 'none' } as const
    const both = protectionCurrent([steel, hull], 3)
    expect(both.meanA).toBeCloseTo(protectionCurrent([steel], 3).meanA + protectionCurrent([hull], 3).meanA, 12)
    const alone = protectionCurrent([hull], 3)
    expect([alone.initialA, alone.finalA]).toEqual([alone.meanA, alone.meanA])
    expect([lacksDensities('aluminium'), lacksDensities('bare-steel-temperate')]).toEqual([true, false])
  })

  it('counts paint once', () => {
    const painted = PROTECTED_SURFACES.filter((surface) => /painted|coated|paint|ship/.test(surface))
    expect(painted.filter(takesCoating)).toEqual([])
    expect(PROTECTED_SURFACES.filter(takesCoating).length).toBe(PROTECTED_SURFACES.length - painted.length)
    expect(() => protectionCurrent([{ surface: 'painted-steel-hull', areaM2: 1, coating: 'I' }], 1)).toThrow(
      expect.objectContaining({ quantity: 'coating' }),
    )
  })

  it('refuses no surface at all, and one without area', () => {
    expect(() => protectionCurrent([], 1)).toThrow(expect.objectContaining({ quantity: 'areas' }))
    const none = { surface: 'aluminium', areaM2: 0, coating: 'none' } as const
    expect(() => protectionCurrent([none], 1)).toThrow(expect.objectContaining({ quantity: 'area' }))
  })
})

describe('anodeCurrent', () => {
  // "Design Calculation of Terminal A": driving voltage −0.80 − (−1.05) = 0.25 V.
  it('has the design driving voltage of aluminium', () => {
    expect(anodeCurrent(designAlloy('aluminium').closedCircuitVAgAgcl, 1)).toBeCloseTo(0.25, 12)
  })

  it('refuses an anode that is nobler than what it protects', () => {
    expect(() => anodeCurrent(-0.7, 1)).toThrow(expect.objectContaining({ quantity: 'anode potential' }))
  })
})

describe('anodeCount', () => {
  const enough = { initialCurrentA: 0, anodeInitialCurrentA: 1, finalCurrentA: 0, anodeFinalCurrentA: 1 }

  // A corporate corrosion manual (1999), p. 1200-50: 4260 lb in anodes of 64 lb: 66.6, so 67.
  it('rounds up as a pipeline manual does', () => {
    const counted = anodeCount({ ...enough, requiredMassKg: 4260, anodeMassKg: 64 })
    expect(counted).toMatchObject({ number: 67, decidedBy: 'mass' })
    expect(Math.abs(counted.criteria[0]!.raw - 66.6)).toBeLessThan(0.05)
  })

  // MIL-HDBK-1004/10 p. 186: 0.858 A in anodes of 26.7 mA: 32.1. It prints 32; the rule is to round up.
  it('has the military handbook’s raw number, and rounds it up', () => {
    const demand = { requiredMassKg: 0, anodeMassKg: 1, initialCurrentA: 0.858, anodeInitialCurrentA: 0.0267 }
    const counted = anodeCount({ ...enough, ...demand })
    expect(Math.abs(counted.criteria[1]!.raw - 32.1)).toBeLessThan(0.05)
    expect(counted).toMatchObject({ number: 33, decidedBy: 'initial-current' })
  })

  it('takes the largest, the fuller of equals, and at least one', () => {
    const demand = { ...enough, requiredMassKg: 10, anodeMassKg: 4 }
    expect(anodeCount({ ...demand, finalCurrentA: 3.4 })).toMatchObject({ number: 4, decidedBy: 'final-current' })
    expect(anodeCount({ ...demand, finalCurrentA: 2.9 })).toMatchObject({ number: 3, decidedBy: 'final-current' })
    expect(anodeCount({ ...enough, requiredMassKg: 0, anodeMassKg: 4 }).number).toBe(1)
    expect(anodeCount({ ...enough, requiredMassKg: 0.3, anodeMassKg: 0.1 }).number).toBe(3)
  })
})

describe('shapes', () => {
  it('take the formula and the utilisation factor of their proportions', () => {
    // DNV-RP-B401 Tables 10-7 and 10-8, as three public sheets cite them: 0.90 slender, 0.85 short or long flush, 0.80 others.
    expect(SHAPES.map((shape) => initialResistance(shape, 0.25).formula)).toEqual([
      'slender',
      'short-slender',
      'flush-plate',
      'bracelet',
      'bracelet',
    ])
    expect(SHAPES.map((shape) => utilisationOf(shape).utilisationFactor)).toEqual([0.9, 0.85, 0.85, 0.8, 0.8])
  })

  it('have the resistance of their formula, a rod near the metal more', () => {
    expect(initialResistance(LONG_ROD, 0.3).ohm).toBe(slenderResistance(0.3, 1, 0.05))
    expect(initialResistance({ ...LONG_ROD, distanceM: 0.2 }, 0.3).ohm).toBeCloseTo(
      1.3 * slenderResistance(0.3, 1, 0.05),
      12,
    )
    expect(initialResistance(SHORT_PLATE, 0.3).ohm).toBe(braceletResistance(0.3, 0.2 * 0.1 + 2 * 0.03 * (0.2 + 0.1)))
  })

  // Geometry: a rod of 1 m and 0.05 m radius round a core of 0.01 m, zinc of 7.14 g/cm³.
  it('weigh their volume without the core', () => {
    expect(anodeMass(LONG_ROD, 7.14)).toBeCloseTo(Math.PI * (0.05 ** 2 - 0.01 ** 2) * 7140, 10)
    expect(anodeMass(LONG_PLATE, 2.75)).toBeCloseTo(5.5, 12)
    expect(anodeMass(COLLAR, 7.14)).toBe(0.9)
  })

  // DNV-RP-B401 7.9 (from memory): used up to 0.9, a slender rod keeps a tenth of its metal on 0.9 of its length.
  it('leave a thin rod when used up', () => {
    const left = 0.1 * (0.05 ** 2 - 0.01 ** 2)
    const radiusM = Math.sqrt(left / 0.9 + 0.01 ** 2)
    expect(finalResistance(LONG_ROD, 0.3).ohm).toBeCloseTo(slenderResistance(0.3, 0.9, radiusM), 12)
  })

  it('resist more when used up, others the same', () => {
    for (const shape of SHAPES.slice(0, 4))
      expect(finalResistance(shape, 0.25).ohm).toBeGreaterThan(initialResistance(shape, 0.25).ohm)
    expect(finalResistance(COLLAR, 0.25)).toEqual(initialResistance(COLLAR, 0.25))
  })

  it('refuse a core as thick as the rod and a side of 0', () => {
    expect(() => anodeMass({ ...LONG_ROD, coreRadiusM: 0.05 }, 7)).toThrow(
      expect.objectContaining({ quantity: 'core radius' }),
    )
    expect(() => initialResistance({ ...LONG_PLATE, thicknessM: 0 }, 1)).toThrow(
      expect.objectContaining({ quantity: 'thickness' }),
    )
  })
})

describe('sizeAnodes', () => {
  const task = {
    current: { initialA: 1, meanA: 0.5, finalA: 0.7 },
    years: 2,
    alloy: 'aluminium' as const,
    resistivityOhmM: 0.25,
  }

  it('satisfies all three criteria, and with one anode less not all', () => {
    const size = fc.double({ min: 0.2, max: 3, noNaN: true })
    fc.assert(
      fc.property(
        fc.constantFrom(...SHAPES),
        fc.constantFrom(...ANODE_ALLOYS),
        size,
        size,
        (anode, alloy, scale, years) => {
          const current = { initialA: 2 * scale, meanA: scale, finalA: 1.4 * scale }
          const sizing = sizeAnodes({ ...task, current, alloy, years, anode })
          const met = (number: number) =>
            number * sizing.anode.massKg >= sizing.requiredMassKg * (1 - 1e-8) &&
            number * sizing.anode.initialCurrentA >= current.initialA * (1 - 1e-8) &&
            number * sizing.anode.finalCurrentA >= current.finalA * (1 - 1e-8)
          expect(met(sizing.number)).toBe(true)
          expect(sizing.number === 1 || !met(sizing.number - 1)).toBe(true)
          expect(sizing.lifeYears).toBeGreaterThanOrEqual(years * (1 - 1e-8))
          expect(sizing.lifeYears).toBe(
            lifeYears(sizing.totalMassKg, current.meanA, sizing.capacityAhPerKg, sizing.utilisation),
          )
        },
      ),
    )
  })

  it('asks for no fewer where more is wanted, longer, or in fresher water', () => {
    const count = (change: object) => sizeAnodes({ ...task, anode: SHORT_PLATE, ...change }).number
    const base = count({})
    expect(count({ years: 6 })).toBeGreaterThan(base)
    expect(count({ current: { initialA: 3, meanA: 1.5, finalA: 2.1 } })).toBeGreaterThan(base)
    expect(count({ resistivityOhmM: 1 })).toBeGreaterThan(base)
  })

  it('refuses a life or a mean current of 0', () => {
    expect(() => sizeAnodes({ ...task, anode: COLLAR, years: 0 })).toThrow(
      expect.objectContaining({ quantity: 'life' }),
    )
    const still = { initialA: 0, meanA: 0, finalA: 0 }
    expect(() => sizeAnodes({ ...task, anode: COLLAR, current: still })).toThrow(
      expect.objectContaining({ quantity: 'mean current' }),
    )
  })
})
