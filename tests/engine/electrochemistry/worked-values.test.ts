import { describe, expect, it } from 'vitest'
import { corrosionRate } from '../../../src/engine/electrochemistry/corrosion-rate.js'
import { metalDensityOf } from '../../../src/engine/electrochemistry/density.js'
import { convertPotential } from '../../../src/engine/electrochemistry/electrode.js'
import { meanCurrent, theoreticalCapacity } from '../../../src/engine/electrochemistry/faraday.js'
import { seawaterDensity } from '../../../src/engine/electrochemistry/seawater-density.js'

/** Worked out apart from this code, from the published rules named beside each; half of the last digit given. */
describe('worked values', () => {
  // Faraday's law with the atomic masses of ASTM G102, Table 1.
  it.each([
    ['zinc', 2, 65.38, 819.87],
    ['aluminium', 3, 26.9815, 2979.98],
    ['magnesium', 2, 24.305, 2205.43],
  ])('the theoretical capacity of %s', (_, valence, molarMass, capacity) => {
    expect(Math.abs(theoreticalCapacity(valence, molarMass) - capacity)).toBeLessThan(0.005)
  })

  it('the current that 310 g of aluminium gave in 200 days, at 2000 A·h/kg', () => {
    expect(Math.abs(meanCurrent(2000, 310, 200) - 0.12917)).toBeLessThan(5e-6)
  })

  // ASTM G102: 1 µA/cm² of iron, equivalent weight 27.92, 7.87 g/cm³: 0.0116 mm/year.
  it('the penetration of iron by a microampere a square centimetre', () => {
    const hours = 8766
    const massLossG = (1000 * 1e-6 * hours) / theoreticalCapacity(1, 27.92)
    expect(Math.abs(corrosionRate({ massLossG, areaCm2: 1, hours, densityGPerCm3: 7.87 }) - 0.0116)).toBeLessThan(5e-5)
  })

  // E(target) = E(measured) + V(measured) − V(target), with the electrodes' own potentials to 10 mV.
  it.each([
    [-0.8, 'ag-agcl-seawater', 'cse', -0.866],
    [0.25, 'zinc', 'ag-agcl-seawater', -0.78],
  ] as const)('%d V against %s is against %s', (volts, from, to, expected) => {
    expect(Math.abs(convertPotential(volts, from, to) - expected)).toBeLessThan(5.01e-4)
  })

  // EOS-80, which meets its published check values.
  it.each([
    [0, 5, 999.967],
    [0, 10, 999.702],
    [0, 15, 999.102],
    [0, 20, 998.206],
    [0, 25, 997.048],
    [35, 5, 1027.675],
    [35, 10, 1026.952],
    [35, 15, 1025.973],
    [35, 20, 1024.763],
    [35, 25, 1023.343],
    [10, 10, 1007.501],
    [10, 20, 1005.793],
  ])('the density of water of %d psu at %d °C', (salinity, temperature, density) => {
    expect(Math.abs(seawaterDensity(salinity, temperature) - density)).toBeLessThan(5.1e-4)
  })

  // CCI Notes 9/10: 420 g with 60 g of steel (7.86 g/cm³) in it, hanging at 216.9 g in fresh water.
  it('the density of magnesium with its steel core, and without', () => {
    const weighing = { dryG: 420, submergedG: 216.9, water: { value: 0.9991, sd: 0 }, resolutionG: 0 }
    expect(Math.abs(metalDensityOf({ ...weighing, coreMassG: 60 }).value - 1.84)).toBeLessThan(0.001)
    expect(Math.abs(metalDensityOf({ ...weighing, coreMassG: 0 }).value - 2.066)).toBeLessThan(5.1e-4)
  })
})
