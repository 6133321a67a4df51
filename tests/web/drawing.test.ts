import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { NewPontoonDrawing, type PontoonDrawing } from '../../src/contract/pontoon-drawing.js'
import {
  freeLine,
  headOf,
  inCircle,
  lineBetween,
  planBox,
  turnedRound,
} from '../../src/web/pages/set-up/drawing/geometry.js'
import { allBerths, bodyOf, type Harbour, harbourOf } from '../../src/web/pages/set-up/drawing/harbour.js'
import {
  berthsAlong,
  EMPTY_PONTOON,
  numbered,
  type PontoonDraft,
  readPontoon,
} from '../../src/web/pages/set-up/drawing/new-pontoon.js'
import { allApplied, applied, type Step } from '../../src/web/pages/set-up/drawing/steps.js'

const LINE = { shoreXM: 0, shoreYM: 60, headingDegrees: 0, berthLengthM: 12, berthWidthM: 4 }
const idOf = (number: number) => `00000000-0000-4000-8000-${String(number).padStart(12, '0')}`
const berth = (number: number, name: string, hasStays = false) => ({ id: idOf(number), name, hasStays })
const READ: PontoonDrawing = {
  version: 7,
  pontoons: [
    { id: idOf(100), name: 'A', ...LINE, left: [berth(1, 'A1', true), berth(3, 'A3')], right: [berth(2, 'A2')] },
    { id: idOf(200), name: 'B', ...LINE, shoreXM: 60, left: [], right: [] },
  ],
  undrawn: [
    { pontoon: { id: idOf(300), name: 'C' }, berths: [berth(31, 'C1'), berth(32, 'C2'), berth(33, 'C3')] },
    { pontoon: null, berths: [berth(41, 'Buoy')] },
  ],
}
const harbour = harbourOf(READ)
const harbourAfter = (...steps: Step[]): Harbour => {
  const { harbour: now, done } = allApplied(harbour, steps)
  expect(done).toEqual(steps)
  return now
}
const sides = (now: Harbour, name: string) => {
  const pontoon = now.pontoons.find((each) => each.name === name)
  return pontoon && [pontoon.left.map((each) => each.name), pontoon.right.map((each) => each.name)]
}
const put = (number: number, pontoon: number, side: 'left' | 'right', index: number): Step => ({
  kind: 'put-berth',
  berth: idOf(number),
  pontoon: idOf(pontoon),
  side,
  index,
})

describe('steps of a drawing', () => {
  it('move a berth along its side, across, to another pontoon and from among those that wait', () => {
    expect(sides(harbourAfter(put(1, 100, 'left', 1)), 'A')).toEqual([['A3', 'A1'], ['A2']])
    expect(sides(harbourAfter(put(2, 100, 'left', 0)), 'A')).toEqual([['A2', 'A1', 'A3'], []])
    const now = harbourAfter(put(3, 200, 'right', 0), put(41, 200, 'right', 0))
    expect([sides(now, 'A'), sides(now, 'B')]).toEqual([
      [['A1'], ['A2']],
      [[], ['Buoy', 'A3']],
    ])
    expect(now.waiting.map(({ pontoon }) => pontoon?.name)).toEqual(['C'])
  })

  it('draw a pontoon that is on record with its berths on alternating sides', () => {
    const now = harbourAfter({ kind: 'draw-pontoon', pontoon: idOf(300), line: LINE })
    expect(sides(now, 'C')).toEqual([['C1', 'C3'], ['C2']])
    expect(bodyOf(now).pontoons.at(-1)).toMatchObject({ id: idOf(300), left: [{ id: idOf(31) }, { id: idOf(33) }] })
  })

  it('take a pontoon off the drawing: its berths wait on it, those of others on none, new ones go', () => {
    const now = harbourAfter(
      put(41, 100, 'left', 0),
      put(31, 100, 'left', 0),
      { kind: 'add-berth', pontoon: idOf(100), side: 'right', key: 'new', name: 'A9' },
      { kind: 'take-pontoon', pontoon: idOf(100) },
    )
    const waiting = now.waiting.map(({ pontoon, berths }) => [pontoon?.name, berths.map(({ name }) => name)])
    expect(waiting).toEqual([
      ['C', ['C2', 'C3']],
      ['A', ['A1', 'A2', 'A3']],
      [undefined, ['Buoy', 'C1']],
    ])
    // C1 comes off its pontoon; the buoy was on none.
    expect(bodyOf(now).off).toEqual([idOf(31)])
  })

  it('rename, take off and remove; what boats have lain at stays on record', () => {
    const now = harbourAfter(
      { kind: 'rename-berth', berth: idOf(2), name: 'A02' },
      { kind: 'take-berth', berth: idOf(1) },
      { kind: 'remove-berth', berth: idOf(3) },
    )
    expect(bodyOf(now)).toMatchObject({
      pontoons: [{ left: [], right: [{ id: idOf(2), name: 'A02' }] }, { id: idOf(200) }],
      off: [idOf(1)],
      removed: [idOf(3)],
    })
    expect(applied(harbour, { kind: 'remove-berth', berth: idOf(1) })).toBeNull()
  })

  it.each<[string, Step]>([
    ['a name of a berth that is taken', { kind: 'rename-berth', berth: idOf(2), name: 'Buoy' }],
    ['a name of a pontoon that is taken', { kind: 'rename-pontoon', pontoon: idOf(100), name: 'C' }],
    ['a berth that is gone', put(99, 100, 'left', 0)],
    ['a pontoon that is gone', put(1, 999, 'left', 0)],
    [
      'a pontoon with a berth of a taken name',
      { kind: 'add-pontoon', key: 'k', name: 'D', line: LINE, left: ['A1'], right: [] },
    ],
  ])('cannot be done with %s', (_, step) => {
    expect(applied(harbour, step)).toBeNull()
  })

  it('are done again on what somebody else has drawn, but for those that it leaves no room for', () => {
    const mine: Step[] = [
      put(2, 200, 'left', 0),
      { kind: 'rename-berth', berth: idOf(3), name: 'A30' },
      { kind: 'add-berth', pontoon: idOf(200), side: 'left', key: 'new', name: 'B1' },
    ]
    const [a, b] = READ.pontoons
    const theirs = {
      ...READ,
      pontoons: [
        { ...a!, left: [a!.left[0]!] },
        { ...b!, name: 'Beta', shoreXM: 80 },
      ],
    }
    const { harbour: now, done } = allApplied(harbourOf(theirs), mine)
    expect(done).toEqual([mine[0], mine[2]])
    expect(sides(now, 'Beta')).toEqual([['A2', 'B1'], []])
    // Their name is not sent back as it was here before.
    expect(bodyOf(now).pontoons[1]).toMatchObject({ id: idOf(200), shoreXM: 80 })
    expect(bodyOf(now).pontoons[1]).not.toHaveProperty('name')
  })

  const anyStep = fc.oneof(
    fc.record({
      kind: fc.constant('put-berth' as const),
      berth: fc.constantFrom(1, 2, 3, 31, 41).map(idOf),
      pontoon: fc.constantFrom(100, 200, 300).map(idOf),
      side: fc.constantFrom('left' as const, 'right' as const),
      index: fc.nat({ max: 4 }),
    }),
    fc.record({
      kind: fc.constantFrom('take-berth' as const, 'remove-berth' as const),
      berth: fc.constantFrom(1, 2, 31).map(idOf),
    }),
    fc.record({
      kind: fc.constantFrom('turn-round' as const, 'take-pontoon' as const),
      pontoon: fc.constantFrom(100, 200).map(idOf),
    }),
    fc.record({
      kind: fc.constant('draw-pontoon' as const),
      pontoon: fc.constantFrom(100, 300).map(idOf),
      line: fc.constant(LINE),
    }),
  )
  it('lose and double no berth, and make what the service takes, whatever they are', () => {
    fc.assert(
      fc.property(fc.array(anyStep, { maxLength: 12 }), (steps) => {
        const now = allApplied(harbour, steps).harbour
        const keys = [...allBerths(now).map(({ key }) => key), ...now.removed].sort()
        expect(keys).toEqual(
          allBerths(harbour)
            .map(({ key }) => key)
            .sort(),
        )
        expect(NewPontoonDrawing.safeParse(bodyOf(now)).success).toBe(true)
      }),
    )
  })
})

describe('the plan in metres', () => {
  it('has a line from the shore to the head, 0° up and 90° to the right', () => {
    expect(lineBetween({ x: 1.1, y: 50 }, { x: 1.1, y: 20 })).toEqual({
      shoreXM: 1,
      shoreYM: 50,
      headingDegrees: 0,
      reachM: 30,
    })
    expect(lineBetween({ x: 0, y: 0 }, { x: 40, y: 0 }).headingDegrees).toBe(90)
    expect(lineBetween({ x: 0, y: 0 }, { x: -9, y: 0 }).headingDegrees).toBe(270)
    expect([inCircle(-90), inCircle(360), inCircle(719.6)]).toEqual([270, 0, 0])
  })

  it('comes back where a pontoon is turned round twice, with every berth where it was', () => {
    const pontoon = { ...harbour.pontoons[0]!, headingDegrees: 30 }
    const turned = turnedRound(pontoon)
    expect([turned.left, turned.right].map((side) => side.map(({ name }) => name))).toEqual([['A2'], ['A3', 'A1']])
    expect([turned.shoreXM, turned.shoreYM]).toEqual([headOf(pontoon).x, headOf(pontoon).y])
    const again = turnedRound(turned)
    expect(again.shoreXM).toBeCloseTo(pontoon.shoreXM, 9)
    expect(again.shoreYM).toBeCloseTo(pontoon.shoreYM, 9)
    expect(again).toMatchObject({ left: pontoon.left, right: pontoon.right, headingDegrees: 30 })
  })

  it('puts the next pontoon clear of those that are there', () => {
    const step = readPontoon(harbour, { ...EMPTY_PONTOON, name: 'D', left: '4', right: '4' }, 'd') as Step
    const now = harbourAfter(step)
    const [, b, d] = now.pontoons
    // The berths of both, 12 m each, and a fairway between them.
    expect(d!.shoreXM - b!.shoreXM).toBeGreaterThanOrEqual(12 + 12 + 12)
    expect(planBox(now).width).toBeGreaterThanOrEqual(d!.shoreXM - harbour.pontoons[0]!.shoreXM)
    expect(freeLine({ pontoons: [] }, null).x).toBeGreaterThan(12)
  })
})

describe('a new pontoon', () => {
  it.each([
    ['across', ['D1', 'D3', 'D5'], ['D2', 'D4']],
    ['along', ['D1', 'D2', 'D3'], ['D4', 'D5']],
  ] as const)('is numbered %s', (numbering, left, right) => {
    expect(numbered(harbour, 'D', { left: 3, right: 2 }, numbering)).toEqual({ left, right })
  })

  it('leaves out numbers that are taken', () => {
    expect(numbered(harbour, 'A', { left: 2, right: 1 }, 'across')).toEqual({ left: ['A4', 'A6'], right: ['A5'] })
  })

  it.each<[Partial<PontoonDraft>, object]>([
    [{}, { name: 'missing' }],
    [{ name: ' C ' }, { name: 'taken' }],
    [
      { name: 'D', left: '2.5', right: '501' },
      { left: 'count', right: 'count' },
    ],
    [
      { name: 'D', lengthM: '0', widthM: 'wide' },
      { lengthM: 'metres', widthM: 'metres' },
    ],
    [{ name: 'D', headingDegrees: '400' }, { headingDegrees: 'degrees' }],
  ])('is not made of %j', (part, wrong) => {
    expect(readPontoon(harbour, { ...EMPTY_PONTOON, ...part }, 'd')).toEqual({ wrong })
  })

  it('takes what a stroke says, and has room for as many berths as fit along it', () => {
    const draft = { ...EMPTY_PONTOON, name: 'D', widthM: '4,5', shore: { x: 12.3, y: 40 }, headingDegrees: '90' }
    expect(readPontoon(harbour, draft, 'd')).toMatchObject({
      line: { shoreXM: 12.5, shoreYM: 40, headingDegrees: 90, berthWidthM: 4.5, berthLengthM: null },
    })
    expect([berthsAlong(46, '4,5'), berthsAlong(46, ''), berthsAlong(2, '')]).toEqual([10, 10, 1])
  })
})
