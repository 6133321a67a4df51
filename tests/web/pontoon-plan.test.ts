import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  isUnsure,
  STEPS,
  sayEffect,
  sayEffectSpan,
  sayStep,
  stepOf,
} from '../../src/web/pages/pontoons/effect-scale.js'
import { type PlacedBerth, type Plan, planOf } from '../../src/web/pages/pontoons/plan-layout.js'

const berth = (name: string, part: Partial<PlacedBerth> = {}): PlacedBerth => ({
  berth: name,
  pontoon: name.slice(0, 1),
  planX: null,
  planY: null,
  side: null,
  place: null,
  ...part,
})
const sidesOf = (plan: Plan<PlacedBerth>, index = 0) =>
  plan.spines[index]?.bays.map(({ one, other }) => [one?.berth ?? null, other?.berth ?? null])

describe('the plan of the pontoons', () => {
  it('puts berths on alternating sides in the natural order of their names', () => {
    const plan = planOf(['A10', 'A2', 'A1', 'A9', 'A3'].map((name) => berth(name)))
    expect(sidesOf(plan)).toEqual([
      ['A1', 'A2'],
      ['A3', 'A9'],
      ['A10', null],
    ])
  })

  it('orders pontoons by their first berth, and keeps berths of none apart', () => {
    const plan = planOf([
      berth('B1', { pontoon: 'Alder' }),
      berth('A1', { pontoon: 'Willow' }),
      berth('Mooring 2', { pontoon: null }),
      berth('Mooring 1', { pontoon: null }),
    ])
    expect(plan.spines.map(({ pontoon }) => pontoon)).toEqual(['Willow', 'Alder'])
    expect(plan.apart.map(({ berth }) => berth)).toEqual(['Mooring 1', 'Mooring 2'])
  })

  it('goes by what somebody drew, before positions and names; berths that came since stand at the end', () => {
    const on = (name: string, side: 'left' | 'right', place: number) =>
      berth(name, { side, place, planX: 3 * place, planY: side === 'left' ? 9 : 1 })
    const plan = planOf([
      on('A1', 'right', 2),
      on('A2', 'left', 1),
      on('A3', 'right', 1),
      berth('A10'),
      berth('A4'),
      berth('B2'),
      berth('B1'),
    ])
    expect(sidesOf(plan)).toEqual([
      ['A2', 'A3'],
      [null, 'A1'],
      ['A4', 'A10'],
    ])
    expect(sidesOf(plan, 1)).toEqual([['B1', 'B2']])
    expect(plan.spines.map(({ isDrawn }) => isDrawn)).toEqual([true, false])
  })

  // Two rows a gap and a half apart, whatever the names say.
  it('follows positions where they tell the two sides apart', () => {
    const at = (name: string, along: number, across: number) => berth(name, { planX: 4 * along, planY: 10 + across })
    const plan = planOf([
      at('A1', 0, 3),
      at('A2', 1, 3),
      at('A3', 2, 3),
      at('A4', 0, -3),
      at('A5', 1, -3),
      at('A6', 2, -3),
    ])
    const sides = sidesOf(plan)?.map((pair) => pair.toSorted())
    expect(sides).toEqual([
      ['A1', 'A4'],
      ['A2', 'A5'],
      ['A3', 'A6'],
    ])
  })

  it('orders by positions along one line, from the end of the first name', () => {
    const plan = planOf(
      [
        ['A1', 3],
        ['A2', 1],
        ['A3', 2],
        ['A4', 0],
      ].map(([name, place]) => berth(String(name), { planX: 7, planY: Number(place) })),
    )
    expect(sidesOf(plan)).toEqual([
      ['A1', 'A3'],
      ['A2', 'A4'],
    ])
  })

  it('shows every berth once, whatever is known of it', () => {
    const place = fc.option(fc.double({ min: -80, max: 80, noNaN: true }), { nil: null })
    const any = fc.record({
      berth: fc.string({ minLength: 1 }),
      pontoon: fc.option(fc.constantFrom('A', 'B', 'C'), { nil: null }),
      planX: place,
      planY: place,
      side: fc.option(fc.constantFrom('left', 'right'), { nil: null }),
      place: fc.option(fc.nat({ max: 20 }), { nil: null }),
    })
    fc.assert(
      fc.property(fc.uniqueArray(any, { selector: (each) => each.berth, maxLength: 30 }), (berths) => {
        const plan = planOf(berths)
        const bays = plan.spines.flatMap((spine) => spine.bays.flatMap(({ one, other }) => [one, other]))
        const shown = [...bays, ...plan.apart].filter((each) => each !== null).map((each) => each.berth)
        expect(shown.toSorted()).toEqual(berths.map((each) => each.berth).toSorted())
        expect(plan.spines.reduce((sum, { count }) => sum + count, 0) + plan.apart.length).toBe(berths.length)
      }),
    )
  })
})

describe('the scale of berth effects', () => {
  it('is alike either way: a rate and its inverse take steps of one size', () => {
    fc.assert(
      fc.property(fc.double({ min: -2, max: 2, noNaN: true }), (mean) => {
        const step = STEPS.indexOf(stepOf({ mean }))
        expect(STEPS.indexOf(stepOf({ mean: -mean }))).toBe(STEPS.length - 1 - step)
      }),
    )
  })

  it('says an effect with its interval, and whether the interval leaves the way open', () => {
    const effect = { mean: Math.log(1.35), low: Math.log(0.9), high: Math.log(1.8) }
    expect(sayEffect(effect)).toBe('35 % faster')
    expect(sayEffect({ mean: Math.log(0.8) })).toBe('20 % slower')
    expect(sayEffect({ mean: 0 })).toBe('as usual')
    expect(sayEffectSpan(effect)).toBe('−10 to +80 %')
    expect([isUnsure(effect), isUnsure({ ...effect, low: 0.01 })]).toEqual([true, false])
  })

  it('names each step of the legend by bounds that follow on each other', () => {
    expect(STEPS.map(sayStep)).toEqual([
      'over 26 % slower',
      '13 to 26 % slower',
      '5 to 13 % slower',
      'about as usual',
      '5 to 15 % faster',
      '15 to 35 % faster',
      'over 35 % faster',
    ])
  })
})
