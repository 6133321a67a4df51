import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { convertPotential } from '../../../src/engine/electrochemistry/electrode.js'
import { REFERENCE_ELECTRODE_ROWS } from '../../../src/engine/reference/reference-electrodes.js'

const scale = fc.constantFrom(...REFERENCE_ELECTRODE_ROWS.map((row) => row.key))
const volts = fc.double({ min: -3, max: 3, noNaN: true })

describe('convertPotential', () => {
  // "Conversion between reference electrodes" (course page): −0.700 V against copper sulfate is −0.382 V on the hydrogen
  // scale. It takes 0.318 V for the electrode, 2 mV more than the row, hence ±2.5 mV.
  it('agrees with the printed conversion from copper sulfate to hydrogen', () => {
    expect(Math.abs(convertPotential(-0.7, 'cse', 'she') - -0.382)).toBeLessThan(0.0025)
  })

  // "A guide to understanding reference electrode readings", Materials Performance: −0.639 V against silver/silver chloride in
  // saturated KCl is −0.756 V against copper sulfate. It takes 0.199 V for the first, 2 mV more than the row, hence ±2.5 mV.
  it('agrees with the printed conversion from silver/silver chloride to copper sulfate', () => {
    expect(Math.abs(convertPotential(-0.639, 'ag-agcl-sat-kcl', 'cse') - -0.756)).toBeLessThan(0.0025)
  })

  // Page that sums up SP0176-2007: equivalents of the criterion of steel, −0.80 V against silver/silver chloride in seawater.
  // They are rounded to the practice of each electrode, hence ±20 mV.
  it.each([
    ['sce', -0.78],
    ['cse', -0.85],
    ['zinc', 0.25],
    ['ag-agcl-sat-kcl', -0.76],
  ] as const)('is within 20 mV of the published criterion against %s', (electrode, published) => {
    expect(Math.abs(convertPotential(-0.8, 'ag-agcl-seawater', electrode) - published)).toBeLessThan(0.0201)
  })

  it('inverts', () => {
    fc.assert(
      fc.property(volts, scale, scale, (value, from, to) => {
        expect(convertPotential(convertPotential(value, from, to), to, from)).toBeCloseTo(value, 12)
      }),
    )
  })

  it('is the same by way of a third electrode', () => {
    fc.assert(
      fc.property(volts, scale, scale, scale, (value, from, by, to) => {
        const detour = convertPotential(convertPotential(value, from, by), by, to)
        expect(detour).toBeCloseTo(convertPotential(value, from, to), 12)
      }),
    )
  })

  it('refuses a potential that is not a number', () => {
    expect(() => convertPotential(Number.NaN, 'sce', 'cse')).toThrow(expect.objectContaining({ quantity: 'potential' }))
  })
})
