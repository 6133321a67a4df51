import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { allotSlots, MOST_SLOTS, type Occupant, overlap } from '../../../../src/services/imports/planning/slots.js'

const day = fc.option(
  fc.integer({ min: 1, max: 28 }).map((number) => `2024-01-${String(number).padStart(2, '0')}`),
  { freq: 4 },
)
const span = fc
  .tuple(day, day)
  .map(([a, b]) => (a !== null && b !== null && a > b ? { from: b, to: a } : { from: a, to: b }))
const occupants = fc
  .array(fc.tuple(span, fc.option(fc.integer({ min: 1, max: 4 }))), { maxLength: 12 })
  .map((spans) => spans.map(([{ from, to }, slot], index): Occupant => ({ name: `A${index}`, from, to, slot })))

describe('allotSlots', () => {
  it('never puts two into one slot at the same time', () => {
    fc.assert(
      fc.property(occupants, (all) => {
        const slots = allotSlots(all)
        expect(slots.size).toBe(all.length)
        for (const a of all) {
          for (const b of all) {
            if (a !== b && slots.get(a.name) === slots.get(b.name)) expect(overlap(a, b)).toBe(false)
          }
        }
      }),
    )
  })

  it('gives the same slots whatever the order of the rows', () => {
    fc.assert(
      fc.property(occupants, fc.infiniteStream(fc.nat()), (all, random) => {
        const shuffled = all
          .map((one) => ({ one, at: random.next().value ?? 0 }))
          .sort((a, b) => a.at - b.at)
          .map(({ one }) => one)
        expect(allotSlots(shuffled)).toEqual(allotSlots(all))
      }),
    )
  })

  it('leaves those that have a slot where they are: a second time changes nothing', () => {
    fc.assert(
      fc.property(occupants, (all) => {
        const slots = allotSlots(all)
        const settled = all.map((one) => ({ ...one, slot: slots.get(one.name) ?? null }))
        expect(allotSlots(settled)).toEqual(slots)
      }),
    )
  })

  it('gives up when more sit there at once than any boat carries', () => {
    const crowd = Array.from({ length: MOST_SLOTS + 1 }, (_, index) => ({
      name: `A${String(index).padStart(4, '0')}`,
      from: null,
      to: null,
      slot: null,
    }))
    const slots = allotSlots(crowd)
    expect([slots.size, slots.has(`A${MOST_SLOTS.toString().padStart(4, '0')}`)]).toEqual([MOST_SLOTS, false])
  })
})
