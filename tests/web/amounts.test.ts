import { afterEach, describe, expect, it } from 'vitest'
import { GRAMS_PER_UNIT } from '../../src/contract/grams.js'
import { sayMass, sayPartMass, sayRate, weighIn } from '../../src/web/wording/amounts.js'

afterEach(() => weighIn(undefined))

describe('masses in the unit of their reader', () => {
  it('are grams below a kilogram and kilograms above, unless another unit was chosen', () => {
    expect([sayMass(310), sayMass(1234)]).toEqual(['310 g', '1.23 kg'])
    weighIn('g')
    expect([sayMass(310), sayMass(1234)]).toEqual(['310 g', '1.23 kg'])
  })

  it.each([
    ['oz', '16.0 oz'],
    ['lb', '1.00 lb'],
    ['kg', '0.454 kg'],
  ] as const)('say an avoirdupois pound in %s', (unit, said) => {
    weighIn(unit)
    expect(sayMass(GRAMS_PER_UNIT.lb)).toBe(said)
  })

  it('say a rate in ounces where masses are ounces or pounds, else in grams', () => {
    const ounceADay = GRAMS_PER_UNIT.oz
    for (const unit of ['oz', 'lb'] as const) {
      weighIn(unit)
      expect(sayRate(ounceADay)).toBe('1.00 oz a day')
    }
    weighIn('kg')
    expect(sayRate(1.236)).toBe('1.24 g a day')
  })

  it('of parts pretend no decimals', () => {
    expect([130, 980, 6300, 20_000, 1250].map(sayPartMass)).toEqual(['130 g', '980 g', '6.3 kg', '20 kg', '1.3 kg'])
    weighIn('lb')
    expect(sayPartMass(GRAMS_PER_UNIT.lb * 0.25)).toBe('0.25 lb')
  })
})
