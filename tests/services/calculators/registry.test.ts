import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { source } from '../../../src/engine/reference/sources.js'
import { CALCULATORS, calculatorNamed } from '../../../src/services/calculators/registry.js'
import { Invalid, NotFound } from '../../../src/services/errors.js'

const refusal = (name: string, input: unknown) => {
  try {
    calculatorNamed(name).calculate(input)
  } catch (error) {
    if (error instanceof Invalid) return error.errors
    throw error
  }
  throw new Error(`${name} accepted ${JSON.stringify(input)}`)
}

const answer = (name: string, input: unknown) => calculatorNamed(name).calculate(input)

describe.each(CALCULATORS.map((entry) => [entry.name, entry] as const))('%s', (_, entry) => {
  it('computes its own example, within its own schemas', () => {
    const result = entry.calculate(entry.example)
    expect(z.strictObject(entry.output.shape).parse(result)).toEqual(result)
  })

  it('names its sources', () => {
    expect(entry.sources.length).toBeGreaterThan(0)
    for (const key of entry.sources) expect(source(key).title.length).toBeGreaterThan(10)
  })

  it('describes itself as JSON Schema', () => {
    expect(z.toJSONSchema(entry.input, { io: 'input' })).toMatchObject({ type: 'object', additionalProperties: false })
  })

  it('names an unknown field', () => {
    expect(refusal(entry.name, { ...entry.example, colour: 'red' })).toEqual([
      { pointer: '#/colour', detail: 'colour is not a field of this calculation' },
    ])
  })

  it('names each missing field', () => {
    const wanted = Object.entries(entry.input.shape).filter(([, field]) => !field.safeParse(undefined).success)
    const pointers = refusal(entry.name, {}).map((error) => error.pointer)
    expect(pointers).toEqual(expect.arrayContaining(wanted.map(([field]) => `#/${field}`)))
  })

  it.each([null, [], 'text', 3])('refuses %j for an input', (input) => {
    expect(refusal(entry.name, input)).toHaveLength(1)
  })
})

describe('mean-current', () => {
  // Plain arithmetic with the design capacity of aluminium (DNV-RP-B401 Table 10-6, 2000 A·h/kg): 620 A·h in 4800 h.
  it('takes an alloy or a capacity', () => {
    expect(answer('mean-current', { alloy: 'aluminium', massLossG: 310, days: 200 })).toEqual({
      currentA: expect.closeTo(0.129166667, 9),
    })
    expect(answer('mean-current', { capacityAhPerKg: 2000, massLossG: 310, days: 200 })).toEqual(
      answer('mean-current', { alloy: 'aluminium', massLossG: 310, days: 200 }),
    )
  })

  it.each([
    [{ massLossG: 1, days: 1 }, 'alloy'],
    [{ alloy: 'zinc', capacityAhPerKg: 780, massLossG: 1, days: 1 }, 'capacityAhPerKg'],
    [{ alloy: 'lead', massLossG: 1, days: 1 }, 'alloy'],
    [{ alloy: 'zinc', massLossG: 1, days: 0 }, 'days'],
    [{ capacityAhPerKg: -1, massLossG: 1, days: 1 }, 'capacityAhPerKg'],
    [{ alloy: 'zinc', massLossG: '12', days: 1 }, 'massLossG'],
  ])('refuses %j at its field', (input, field) => {
    const [error, ...more] = refusal('mean-current', input)
    expect(more).toEqual([])
    expect(error?.pointer).toBe(`#/${field}`)
    expect(error?.detail).toContain(field)
  })
})

describe('theoretical-capacity', () => {
  // Tri-Services Electrical TP-17 (2017), 1.1.3: zinc, 372 A·h/lb. Printed to 1 A·h/lb, hence ±0.5.
  it('agrees with the printed capacity of zinc', () => {
    const { capacityAhPerKg } = answer('theoretical-capacity', { valence: 2, molarMassGPerMol: 65.38 })
    expect(Math.abs(Number(capacityAhPerKg) * 0.45359237 - 372)).toBeLessThan(0.5)
  })

  it('names the field out of range', () => {
    expect(refusal('theoretical-capacity', { valence: 0, molarMassGPerMol: 65 })[0]?.pointer).toBe('#/valence')
    expect(refusal('theoretical-capacity', { valence: 2, molarMassGPerMol: 0 })[0]?.pointer).toBe('#/molarMassGPerMol')
  })
})

describe('electrode', () => {
  // "Conversion between reference electrodes" (course page): −0.700 V copper sulfate is −0.382 V hydrogen, with an electrode
  // value 2 mV from the table's.
  it('agrees with a printed conversion', () => {
    const { volts } = answer('electrode', { volts: -0.7, from: 'cse', to: 'she' })
    expect(Math.abs(Number(volts) - -0.382)).toBeLessThan(0.0025)
  })

  it('asks about millivolts', () => {
    const errors = refusal('electrode', { volts: -950, from: 'cse', to: 'she' })
    expect(errors).toEqual([{ pointer: '#/volts', detail: expect.stringContaining('millivolts') }])
  })

  it('refuses an electrode it does not know', () => {
    expect(refusal('electrode', { volts: -0.9, from: 'hand', to: 'she' })[0]?.pointer).toBe('#/from')
  })
})

describe('density', () => {
  // 100 cm³ of zinc (7.14 g/cm³ on public tables) in fresh water of 15 °C, 0.9991 g/cm³ (EOS-80).
  it('finds zinc, with the water given as a density or as a kind', () => {
    const weighing = { dryG: 714, submergedG: 714 - 99.91, coreMassG: 0, resolutionG: 1 }
    for (const water of [{ waterDensityGPerCm3: 0.9991 }, { submergedIn: 'fresh' }]) {
      const result = answer('density', { ...weighing, ...water })
      expect(result.densityGPerCm3).toBeCloseTo(7.14, 3)
      expect(result.alloys).toMatchObject([{ alloy: 'zinc' }, {}, {}])
    }
  })

  it('widens where only the kind of water is known', () => {
    const weighing = { dryG: 714, submergedG: 614, coreMassG: 0, resolutionG: 0 }
    expect(answer('density', { ...weighing, waterDensityGPerCm3: 1 }).sd).toBe(0)
    expect(answer('density', { ...weighing, submergedIn: 'salt' }).sd).toBeGreaterThan(0)
  })

  it.each([
    [{ submergedG: 800 }, 'submergedG'],
    [{ coreMassG: 714 }, 'coreMassG'],
    [{ resolutionG: -1 }, 'resolutionG'],
    [{ submergedIn: 'fresh' }, 'submergedIn'],
    [{ waterDensityGPerCm3: 0 }, 'waterDensityGPerCm3'],
  ])('refuses %j at its field', (change, field) => {
    const input = { dryG: 714, submergedG: 614, waterDensityGPerCm3: 1, coreMassG: 0, resolutionG: 1, ...change }
    expect(refusal('density', input)[0]?.pointer).toBe(`#/${field}`)
  })
})

describe('any input', () => {
  it('is answered with finite numbers or refused by field', () => {
    const number = fc.oneof(fc.double(), fc.constantFrom(0, -1, 1e308, 5e-324))
    const field = fc.constantFrom(...CALCULATORS.flatMap((entry) => Object.keys(entry.input.shape)))
    const value = fc.oneof(number, fc.constantFrom('zinc', 'salt', 'sce', 'she'), fc.jsonValue())
    fc.assert(
      fc.property(fc.constantFrom(...CALCULATORS), fc.dictionary(field, value), (entry, change) => {
        try {
          const result = entry.calculate({ ...entry.example, ...change })
          expect(entry.output.safeParse(result).error).toBeUndefined()
        } catch (error) {
          expect(error).toBeInstanceOf(Invalid)
        }
      }),
      { numRuns: 500 },
    )
  })
})

describe('an answer beyond what a number can hold', () => {
  it.each([
    ['mean-current', { massLossG: 1.7e308 }, 'currentA'],
    ['sizing', { years: 1e239 }, 'number'],
  ])('is refused by %s', (name, change, field) => {
    const { calculate, example } = calculatorNamed(name)
    expect(() => calculate({ ...example, ...change })).toThrow(`${field} is beyond what a number can hold`)
  })
})

describe('calculatorNamed', () => {
  it('knows no other', () => expect(() => calculatorNamed('toString')).toThrow(NotFound))
})
