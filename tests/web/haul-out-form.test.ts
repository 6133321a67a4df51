import { describe, expect, it } from 'vitest'
import { NewHaulOut } from '../../src/contract/haul-outs.js'
import { newKey } from '../../src/web/api/request-key.js'
import {
  type AnodeDraft,
  type HaulOutDraft,
  keepDraft,
  loadDraft,
  newDraft,
  UNTOUCHED,
} from '../../src/web/pages/haul-out/draft.js'
import { draftBody } from '../../src/web/pages/haul-out/draft-body.js'
import { doubtOf, sortProblems, withoutField } from '../../src/web/pages/haul-out/field-problems.js'
import { parseNumber } from '../../src/web/wording/typed-number.js'

const IN_PLACE = ['shaft 2', 'hull 1', 'rudder 1']

function draftWith(anodes: Record<string, Partial<AnodeDraft>>, part: Partial<HaulOutDraft> = {}): HaulOutDraft {
  const typed = Object.entries(anodes).map(([name, fields]) => [name, { ...UNTOUCHED, ...fields }] as const)
  return { ...newDraft('2031-10-02'), ...part, anodes: Object.fromEntries(typed) }
}

const parsed = (draft: HaulOutDraft) => NewHaulOut.parse(draftBody(draft, IN_PLACE).body)

describe('what a haul-out form sends', () => {
  it('leaves out what nobody looked at, and keeps the order of the form', () => {
    const draft = draftWith({ 'rudder 1': { mass: '410' }, 'shaft 2': { mass: '905' }, 'hull 1': {} })
    expect(draftBody(draft, IN_PLACE).sent).toEqual(['shaft 2', 'rudder 1'])
  })

  // 1 lb = 453.59237 g and 1 oz = 28.349523125 g exactly: the international pound of 1959.
  it.each([
    ['905', 'g', 905],
    ['0,905', 'kg', 905],
    ['2', 'lb', 907.18474],
    ['32', 'oz', 907.18474],
  ] as const)('%s %s is %d g', (mass, unit, grams) => {
    expect(parsed(draftWith({ 'shaft 2': { mass } }, { unit })).weighings[0]?.massG).toBeCloseTo(grams, 9)
  })

  it('tells calipers, an eye and a missing anode as such', () => {
    const { weighings } = parsed(
      draftWith({
        'shaft 2': { method: 'dimensions', lengthMm: '61', mass: '7' },
        'hull 1': { method: 'visual', wastedPercent: '30' },
        'rudder 1': { conditions: ['missing'] },
      }),
    )
    expect(weighings).toMatchObject([
      { anode: 'shaft 2', method: 'dimensions', lengthMm: 61 },
      { anode: 'hull 1', method: 'visual', wastedPercent: 30 },
      { anode: 'rudder 1', method: 'visual', wastedPercent: 100, conditions: ['missing'] },
    ])
    expect(weighings[0]).not.toHaveProperty('massG')
  })

  it('says what took an anode’s place, and where the boat goes', () => {
    const replacedBy = { alloy: 'zinc', shape: 'shaft collar', grossMass: '1,25', coreMass: '0.08' } as const
    const body = parsed(
      draftWith({ 'shaft 2': { replacedBy } }, { unit: 'kg', backAt: 'berth:B14', relaunchedOn: '2031-10-03' }),
    )
    expect(body.weighings[0]?.replacedBy).toEqual({
      alloy: 'zinc',
      shape: 'shaft collar',
      grossMassG: 1250,
      coreMassG: 80,
    })
    expect(body).toMatchObject({ relaunchedOn: '2031-10-03', relaunch: { berth: 'B14' } })
    expect(parsed(draftWith({}, { backAt: 'ashore' })).relaunch).toEqual({ berth: null })
  })

  it('points at what is no number', () => {
    const { problems } = draftBody(draftWith({ 'shaft 2': { mass: '905' }, 'hull 1': { mass: '4 1o' } }), IN_PLACE)
    expect(problems.map(({ pointer }) => pointer)).toEqual(['/weighings/1/massG'])
  })
})

describe('parseNumber', () => {
  it.each([
    ['1,25', 1.25],
    [' 1 250 ', 1250],
    ['.5', 0.5],
    ['-3', -3],
    ['', null],
    ['1e3', Number.NaN],
    ['1.2.3', Number.NaN],
    ['0x10', Number.NaN],
  ])('%j is %d', (text, value) => {
    expect(parseNumber(text)).toEqual(value)
  })
})

describe('the problems of a form', () => {
  const sorted = sortProblems(
    [
      { pointer: '/weighings/1/massG', detail: 'heavier', code: 'heavier-than-before' },
      { pointer: '/weighings/1/replacedBy/alloy', detail: 'unknown' },
      { pointer: '/hauledOn', detail: 'in the future' },
      { pointer: '/weighings/9/massG', detail: 'of nobody' },
    ],
    ['shaft 2', 'rudder 1'],
  )

  it('go to the anode that was sent at that place, the rest to the form', () => {
    expect(sorted.anodes.get('rudder 1')?.map(({ pointer }) => pointer)).toEqual(['massG', 'replacedBy/alloy'])
    expect(sorted.form.map(({ pointer }) => pointer)).toEqual(['hauledOn', 'weighings/9/massG'])
  })

  it('leave when their field is mended, the others stay', () => {
    const left = withoutField(sorted, 'rudder 1', 'massG')
    expect(left.anodes.get('rudder 1')?.map(({ pointer }) => pointer)).toEqual(['replacedBy/alloy'])
  })

  it('can be confirmed where the service lets them', () => {
    expect(sorted.anodes.get('rudder 1')?.map(doubtOf)).toEqual(['heavier-than-before', undefined])
  })
})

describe('a draft in the browser', () => {
  it('comes back as it was kept, one that cannot be read as none', () => {
    const store = memoryStore()
    const draft = draftWith({ 'shaft 2': { mass: '905', conditions: ['crusted'] } })
    keepDraft(store, 'Wren', draft)
    expect(loadDraft(store, 'Wren')).toEqual(draft)
    expect(loadDraft(store, 'Teal')).toBeNull()
    store.setItem('haul-out draft: Teal', '{"hauledOn":7}')
    expect(loadDraft(store, 'Teal')).toBeNull()
    expect(store.getItem('haul-out draft: Teal')).toBeNull()
  })

  it('that finds no room is not kept, and what was kept before stays', () => {
    const store = memoryStore()
    const before = draftWith({ 'shaft 2': { mass: '905' } })
    expect(keepDraft(store, 'Wren', before)).toBe(true)
    store.setItem = () => {
      throw new DOMException('full', 'QuotaExceededError')
    }
    expect(keepDraft(store, 'Wren', draftWith({ 'shaft 2': { mass: '906' } }))).toBe(false)
    expect(loadDraft(store, 'Wren')).toEqual(before)
    store.setItem = () => {
      throw new DOMException('refused', 'SecurityError')
    }
    expect(() => keepDraft(store, 'Wren', before)).toThrow('refused')
  })

  it('has a key of its own each time', () => {
    expect(new Set(Array.from({ length: 100 }, newKey)).size).toBe(100)
  })
})

/** Storage as the browser has it, without a browser. */
function memoryStore(): Storage {
  const kept = new Map<string, string>()
  return {
    get length() {
      return kept.size
    },
    clear: () => kept.clear(),
    key: (index) => [...kept.keys()][index] ?? null,
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
  }
}
