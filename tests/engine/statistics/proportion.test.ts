import { describe, expect, it } from 'vitest'
import { OutOfRange } from '../../../src/engine/errors.js'
import { wilsonInterval } from '../../../src/engine/statistics/proportion.js'

describe('wilsonInterval', () => {
  // R 4.2.2, prop.test without correction, on invented counts: x, n, level, lower, upper. Computed in doubles.
  it.each([
    [0, 20, 0.9, 0, 0.11915783736096437],
    [0, 20, 0.95, 0, 0.1611251580528193],
    [3, 25, 0.9, 0.048991550240784075, 0.26522511432381463],
    [3, 25, 0.95, 0.041668171504403613, 0.299557939209269],
    [78, 100, 0.9, 0.70498665429315743, 0.840261422068265],
    [78, 100, 0.95, 0.68929646485014207, 0.849987176153946],
    [90, 100, 0.9, 0.83964449038890787, 0.93928133298455274],
    [90, 100, 0.95, 0.82563433849508661, 0.94477086293932488],
    [50, 50, 0.9, 0.94866681421372978, 1],
    [50, 50, 0.95, 0.92865240086664136, 1],
  ])('of %d in %d at %d agrees with a reference program', (successes, trials, level, low, high) => {
    const interval = wilsonInterval(successes, trials, level)
    expect(interval.low).toBeCloseTo(low, 12)
    expect(interval.high).toBeCloseTo(high, 12)
  })

  it('refuses counts that cannot be', () => {
    expect(() => wilsonInterval(0, 0, 0.9)).toThrow(OutOfRange)
    expect(() => wilsonInterval(3, 2, 0.9)).toThrow(OutOfRange)
    expect(() => wilsonInterval(1, 2, 1)).toThrow(OutOfRange)
  })
})
