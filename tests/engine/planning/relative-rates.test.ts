import { describe, expect, it } from 'vitest'
import { relativeRates } from '../../../src/engine/planning/relative-rates.js'

const effect = (name: string, estimate: number, se: number, anodes: number) => ({
  effect: { name, estimate, se },
  anodes,
})

describe('rates beside the fleet', () => {
  it('average out over the fleet, each anode counting once', () => {
    const groups = [
      { group: 'A', effects: [effect('a', 0.4, 0.1, 6), effect('b', -0.1, 0.2, 2)] },
      { group: 'B', effects: [effect('c', 0.1, 0.1, 4)] },
    ]
    const rates = relativeRates(groups)
    const mean = rates.reduce((sum, { anodes, rate }) => sum + anodes * Math.log(rate!.middle), 0)
    expect(mean).toBeCloseTo(0, 12)
    for (const { rate } of rates) expect(rate!.low < rate!.middle && rate!.middle < rate!.high).toBe(true)
  })

  it('are the same wherever the effects are counted from', () => {
    const at = (shift: number) =>
      relativeRates([
        { group: 'A', effects: [effect('a', 0.4 + shift, 0.1, 6)] },
        { group: 'B', effects: [effect('b', 0.1 + shift, 0.1, 3)] },
      ]).map(({ rate }) => rate!.middle)
    for (const [index, middle] of at(5).entries()) expect(middle).toBeCloseTo(at(0)[index]!, 12)
  })

  it('of a fleet that is one group are one, for certain; of a group without anodes none', () => {
    expect(
      relativeRates([
        { group: 'A', effects: [effect('a', 0.7, 0.3, 5)] },
        { group: 'B', effects: [] },
      ]),
    ).toEqual([
      { group: 'A', anodes: 5, rate: { low: 1, middle: 1, high: 1 } },
      { group: 'B', anodes: 0, rate: null },
    ])
  })
})
