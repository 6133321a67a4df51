import fc from 'fast-check'
import { expect, it } from 'vitest'
import { type Life, livesOverlap } from '../../../src/services/anodes/position-for.js'

/** Days as numbers of two digits, so that text order is their order. */
const asDay = (day: number) => `2031-01-${String(day).padStart(2, '0')}`
const life: fc.Arbitrary<Life> = fc
  .tuple(fc.option(fc.integer({ min: 1, max: 20 })), fc.option(fc.integer({ min: 0, max: 8 })), fc.boolean())
  .map(([start, length, known]) => ({
    fittedOn: start === null ? null : asDay(start),
    removedOn: length === null || !known ? null : asDay((start ?? 1) + length),
  }))

/** What PostgreSQL's daterange [fitted, removed) holds, by its definition. */
const holds = ({ fittedOn, removedOn }: Life, day: string) =>
  (fittedOn === null || day >= fittedOn) && (removedOn === null || day < removedOn)

it('two lives overlap just where some day is in both', () => {
  const days = Array.from({ length: 31 }, (_, index) => asDay(index))
  fc.assert(
    fc.property(life, life, (one, other) => {
      expect(livesOverlap(one, other)).toBe(days.some((day) => holds(one, day) && holds(other, day)))
      expect(livesOverlap(other, one)).toBe(livesOverlap(one, other))
    }),
  )
})
