import { describe, expect, it } from 'vitest'
import { calculatorNamed } from '../../../src/services/calculators/registry.js'
import { Invalid } from '../../../src/services/errors.js'

const answer = (name: string, input: unknown) => calculatorNamed(name).calculate(input)

const refusal = (name: string, input: unknown) => {
  try {
    calculatorNamed(name).calculate(input)
  } catch (error) {
    if (error instanceof Invalid) return error.errors
    throw error
  }
  throw new Error(`${name} accepted ${JSON.stringify(input)}`)
}

describe('required-mass', () => {
  // "Design Calculation of Terminal A" (harbour, to DNV-RP-B401): 20.31 A, 15 years, 2000 A·h/kg, 0.9: 1482.63 kg.
  it('agrees with a harbour calculation', () => {
    const { massKg } = answer('required-mass', { currentA: 20.31, years: 15, capacityAhPerKg: 2000, utilisation: 0.9 })
    expect(Math.abs(Number(massKg) - 1482.63)).toBeLessThan(0.005)
  })

  it.each([
    [{ currentA: -1 }, 'currentA'],
    [{ years: -1 }, 'years'],
    [{ capacityAhPerKg: 0 }, 'capacityAhPerKg'],
    [{ utilisation: 0 }, 'utilisation'],
    [{ utilisation: 80 }, 'utilisation'],
  ])('refuses %j at its field', (change, field) => {
    const input = { currentA: 1, years: 1, capacityAhPerKg: 780, utilisation: 0.8, ...change }
    expect(refusal('required-mass', input).map(({ pointer }) => pointer)).toEqual([`#/${field}`])
  })
})

describe('anode-resistance', () => {
  // A public repository's test of DNV-RP-B401 Table 10-7: 0.16148 Ω. The others are their closed forms with round figures.
  it.each([
    [{ formula: 'slender', resistivityOhmM: 0.3, lengthM: 1, radiusM: 0.05 }, 0.16148],
    [{ formula: 'flush-plate', resistivityOhmM: 0.25, meanSideM: 0.5 }, 0.25],
    [{ formula: 'bracelet', resistivityOhmM: 0.25, exposedAreaM2: 0.09 }, 0.2625],
  ])('%j has %d Ω', (input, ohm) => {
    expect(Math.abs(Number(answer('anode-resistance', input).ohm) - ohm)).toBeLessThan(5e-6)
  })

  it('asks for what the formula needs and refuses what it does not use', () => {
    expect(refusal('anode-resistance', { formula: 'slender', resistivityOhmM: 1, lengthM: 1, meanSideM: 1 })).toEqual([
      { pointer: '#/radiusM', detail: 'radiusM is required with formula slender' },
      { pointer: '#/meanSideM', detail: 'meanSideM is not used with formula slender' },
    ])
  })

  it('refuses proportions of the other formula at the length', () => {
    const rod = { resistivityOhmM: 1, lengthM: 0.2, radiusM: 0.1 }
    expect(refusal('anode-resistance', { formula: 'slender', ...rod })[0]?.pointer).toBe('#/lengthM')
    expect(answer('anode-resistance', { formula: 'short-slender', ...rod }).ohm).toBeGreaterThan(0)
  })
})

describe('seawater', () => {
  // UNESCO Technical Papers in Marine Science 44, pp. 9, 14, 19, as the calculator's fields.
  it('agrees with printed check values either way', () => {
    const deep = answer('seawater', { conductivityRatio: 1.2, temperatureC: 20, pressureDbar: 2000 })
    expect(Math.abs(Number(deep.salinityPsu) - 37.245628)).toBeLessThan(5e-7)
    const cold = answer('seawater', { salinityPsu: 25, temperatureC: 0, pressureDbar: 1000 })
    expect(Math.abs(Number(cold.conductivitySPerM) / 4.2914 - 0.506244)).toBeLessThan(5e-7)
    const warm = answer('seawater', { salinityPsu: 35, temperatureC: 25 })
    expect(Math.abs(Number(warm.densityKgPerM3) - 1023.34306)).toBeLessThan(5e-6)
    expect(Number(warm.resistivityOhmM) * Number(warm.conductivitySPerM)).toBeCloseTo(1, 14)
  })

  // The same paper, p. 19: 999.96675 kg/m³ at 0 psu and 5 °C.
  it('answers for water without salt, but for its resistivity, and says why', () => {
    for (const water of [{ salinityPsu: 0 }, { conductivityRatio: 0 }]) {
      const { densityKgPerM3, ...rest } = answer('seawater', { ...water, temperatureC: 5 })
      expect(Math.abs(Number(densityKgPerM3) - 999.96675)).toBeLessThan(5e-6)
      const note = expect.stringContaining('Without salt')
      expect(rest).toEqual({ salinityPsu: 0, conductivitySPerM: 0, resistivityOhmM: null, note })
    }
  })

  it.each([
    [{ salinityPsu: 42.5 }, 'salinityPsu'],
    [{ salinityPsu: 35, temperatureC: 41 }, 'temperatureC'],
    [{ salinityPsu: 35, pressureDbar: -5 }, 'pressureDbar'],
    [{ conductivityRatio: 3 }, 'conductivityRatio'],
    [{ salinityPsu: 35, conductivityRatio: 1 }, 'conductivityRatio'],
    [{}, 'salinityPsu'],
  ])('refuses %j at its field', (change, field) => {
    expect(refusal('seawater', { temperatureC: 15, ...change }).map(({ pointer }) => pointer)).toEqual([`#/${field}`])
  })
})

describe('corrosion-rate', () => {
  // A textbook problem as a public page solves it: 485 g, 100 in², 8760 h, 7.9 g/cm³: 0.952 mm/year.
  it('agrees with a textbook problem', () => {
    const input = { massLossG: 485, areaCm2: 645.16, hours: 8760, densityGPerCm3: 7.9 }
    expect(Math.abs(Number(answer('corrosion-rate', input).mmPerYear) - 0.952)).toBeLessThan(5e-4)
  })

  it.each(['areaCm2', 'hours', 'densityGPerCm3'])('refuses %s of 0 at its field', (field) => {
    const input = { massLossG: 1, areaCm2: 1, hours: 1, densityGPerCm3: 1, [field]: 0 }
    expect(refusal('corrosion-rate', input)[0]?.pointer).toBe(`#/${field}`)
  })
})

describe('sizing', () => {
  const anode = { shape: 'other', massKg: 0.9, exposedAreaM2: 0.012 }
  const current = { initialA: 0.05, meanA: 0.02, finalA: 0.03 }
  const input = { current, years: 2, alloy: 'zinc', salinityPsu: 35, temperatureC: 15, anode }

  // Arithmetic on published figures: zinc 780 A·h/kg and 0.80 used (DNV-RP-B401 Tables 10-6, 10-8): 0.02·2·8760/(0.8·780) =
  // 0.5615 kg; 0.315·0.2330/√0.012 = 0.670 Ω in standard seawater, and 0.20 V drive 0.298 A through it.
  it('puts the parts together', () => {
    const sizing = answer('sizing', input)
    expect(sizing).toMatchObject({ number: 1, decidedBy: 'mass', takenAsMean: [], current })
    expect(Math.abs(Number(sizing.requiredMassKg) - 0.5615)).toBeLessThan(5e-5)
    const { initial, initialCurrentA } = sizing.anode as { initial: { ohm: number }; initialCurrentA: number }
    expect(Math.abs(initial.ohm - 0.67)).toBeLessThan(5e-4)
    expect(Math.abs(initialCurrentA - 0.298)).toBeLessThan(5e-4)
  })

  it('takes the resistivity itself, and surfaces', () => {
    const { salinityPsu: _, temperatureC: __, current: ___, ...rest } = input
    const areas = [{ surface: 'painted-steel-hull', areaM2: 10 }]
    const sizing = answer('sizing', { ...rest, areas, resistivityOhmM: 30 })
    expect(sizing).toMatchObject({ takenAsMean: ['painted-steel-hull'], decidedBy: 'initial-current' })
  })

  it.each([
    [{ areas: [{ surface: 'aluminium', areaM2: 1 }] }, 'current'],
    [{ resistivityOhmM: 1 }, 'salinityPsu'],
    [{ salinityPsu: 0 }, 'salinityPsu'],
    [{ years: 0 }, 'years'],
    [{ anode: { ...anode, massKg: 0 } }, 'anode/massKg'],
    [{ anode: { shape: 'rod', lengthM: 1, radiusM: 0.05, distanceM: 0.1 } }, 'anode'],
    [{ current: { ...current, meanA: 0 } }, 'current/meanA'],
  ])('refuses %j at its field', (change, field) => {
    expect(refusal('sizing', { ...input, ...change }).map(({ pointer }) => pointer)).toEqual([`#/${field}`])
  })
})
