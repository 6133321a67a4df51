import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { GRAMS_PER_UNIT, gramsOf } from '../../src/contract/grams.js'
import { LengthMm, MassG, MassGOrZero } from '../../src/contract/mass.js'
import { MASS_UNITS } from '../../src/contract/vocabulary.js'

const unit = fc.constantFrom(...MASS_UNITS)
const amount = fc.double({ min: 1e-3, max: 1e4, noNaN: true })

describe('MassG', () => {
  // International yard and pound agreement, 1959: 1 lb = 0.45359237 kg exactly; 16 oz to the pound.
  it('takes pounds and ounces at the agreed definition', () => {
    expect(MassG.parse({ value: 1, unit: 'lb' })).toBe(453.59237)
    expect(MassG.parse({ value: 16, unit: 'oz' })).toBe(453.59237)
    expect(MassG.parse({ value: 1.001, unit: 'kg' })).toBe(1001)
    expect(MassG.parse(1200)).toBe(1200)
  })

  it('comes back to what was given, whatever the unit', () => {
    fc.assert(
      fc.property(amount, unit, (value, unit) => {
        const back = MassG.parse({ value, unit }) / GRAMS_PER_UNIT[unit]
        expect(Math.abs(back / value - 1)).toBeLessThan(1e-14)
      }),
    )
  })

  it('moves the decimal point of kilograms and nothing else', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000_000 }), (grams) => {
        expect(gramsOf(grams / 1000, 'kg')).toBe(grams)
      }),
    )
  })

  it('leaves a number of grams as it is, so that only a named unit is ever converted', () => {
    fc.assert(fc.property(amount, (grams) => MassG.parse(grams) === grams))
  })

  it.each([
    [0],
    [-5],
    ['1200'],
    [Number.NaN],
    [Number.POSITIVE_INFINITY],
    [5e-324],
    [{ value: 1e308, unit: 'kg' }],
    [{ value: 1 }],
    [{ value: 1, unit: 'stone' }],
    [{ value: -1, unit: 'kg' }],
  ])('refuses %j', (given) => {
    expect(MassG.safeParse(given).success).toBe(false)
  })

  it('shows both ways of giving a mass in the OpenAPI document', () => {
    expect(z.toJSONSchema(MassG, { io: 'input' }).$defs?.Mass).toMatchObject({
      anyOf: [{ type: 'number' }, { type: 'object', required: ['value', 'unit'], additionalProperties: false }],
    })
  })
})

it('MassGOrZero takes nothing as an answer, MassG does not', () => {
  expect(MassGOrZero.parse(0)).toBe(0)
  expect(MassG.safeParse(0).success).toBe(false)
})

it('LengthMm takes millimetres alone', () => {
  expect(LengthMm.parse(150)).toBe(150)
  expect(LengthMm.safeParse({ value: 15, unit: 'cm' }).success).toBe(false)
  expect(LengthMm.safeParse(0).success).toBe(false)
})
