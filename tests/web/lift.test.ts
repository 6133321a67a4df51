import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { HaulOutView } from '../../src/contract/haul-outs.js'
import { NewHaulOut } from '../../src/contract/haul-outs.js'
import { POSITION_KINDS } from '../../src/contract/vocabulary.js'
import { partsFor, recentParts } from '../../src/web/offline/recent-parts.js'
import { newDraft, UNTOUCHED } from '../../src/web/pages/haul-out/draft.js'
import { draftBody } from '../../src/web/pages/haul-out/draft-body.js'
import { badgesOf, DRAWING, placeAnodes } from '../../src/web/pages/lift/hull-layout.js'
import { boatsFound, listedBoats } from '../../src/web/pages/lift/lift-list.js'
import { boatOfLabel, liftPath } from '../../src/web/pages/lift/lift-paths.js'
import { lastUnit, type PadKey, pressed, withDefaults } from '../../src/web/pages/lift/typing.js'
import { area, drawnShapeOf, wastedOutline } from '../../src/web/pages/lift/wasted-outline.js'
import { parseNumber } from '../../src/web/wording/typed-number.js'
import { anodeOf } from './anode-of.js'

describe('the keypad', () => {
  const keys = fc.array(fc.constantFrom<PadKey>('0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '.', 'erase'), {
    maxLength: 20,
  })

  it('never makes anything but a number, or nothing', () => {
    fc.assert(
      fc.property(keys, (typed) => {
        const text = typed.reduce(pressed, '')
        if (text !== '') expect(parseNumber(text)).not.toBeNaN()
      }),
    )
  })

  it('erases what was typed last', () => {
    expect(pressed(pressed('31', '0'), 'erase')).toBe('31')
  })
})

describe('what a first figure brings along', () => {
  const draft = {
    ...newDraft('2031-10-02'),
    anodes: { 'shaft 1': { ...UNTOUCHED, mass: '0.9', unit: 'kg' as const, cleaned: true } },
  }

  it('is the unit and the cleaning of the anode before', () => {
    expect(withDefaults(draft, 'hull 1', { mass: '2' }, 'g')).toEqual({ mass: '2', unit: 'kg', cleaned: true })
  })

  it('is nothing where both were chosen for this anode', () => {
    const chosen = { ...UNTOUCHED, unit: 'lb' as const, cleaned: false }
    const own = { ...draft, anodes: { 'hull 1': chosen, ...draft.anodes } }
    expect(withDefaults(own, 'hull 1', { mass: '2' }, 'g')).toEqual({ mass: '2' })
  })

  it('is what somebody prefers on the first anode', () => {
    expect(lastUnit(newDraft('2031-10-02'), 'oz')).toBe('oz')
  })

  it('leaves each anode in the unit it was weighed in', () => {
    const both = {
      ...draft,
      anodes: { ...draft.anodes, 'hull 1': { ...UNTOUCHED, mass: '32', unit: 'oz' as const } },
    }
    const { weighings } = NewHaulOut.parse(draftBody(both, ['shaft 1', 'hull 1']).body)
    // 1 oz = 28.349523125 g exactly: the international pound of 1959.
    expect(weighings.map(({ massG }) => massG)).toEqual([900, 907.18474])
  })
})

describe('the drawing of a boat', () => {
  const anodes = (count: number) =>
    Array.from({ length: count }, (_, index) => {
      const positionKind = POSITION_KINDS[index % POSITION_KINDS.length]!
      return anodeOf({ name: `${positionKind} ${index}`, position: positionKind, positionKind })
    })

  it('has each anode once, within the picture, no two at one point', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 30 }), (count) => {
        const placed = placeAnodes(anodes(count))
        expect(placed.map(({ number }) => number)).toEqual(placed.map((_, index) => index + 1))
        expect(new Set(placed.map(({ anode }) => anode.name)).size).toBe(count)
        expect(new Set(placed.map(({ x, y }) => `${x} ${y}`)).size).toBe(count)
        expect(placed.every(({ x, y }) => x >= 0 && x <= DRAWING.width && y >= 0 && y <= DRAWING.height)).toBe(true)
      }),
    )
  })

  it('puts what a label calls aft behind what it calls forward', () => {
    const labels = ['hull port forward', 'hull port aft', 'hull midships']
    const placed = placeAnodes(labels.map((position) => anodeOf({ name: position, position, positionKind: 'hull' })))
    expect(placed.map(({ anode }) => anode.name)).toEqual(['hull port aft', 'hull midships', 'hull port forward'])
  })

  it('leads to them by badges wide enough for a thumb on a phone', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), (count) => {
        const badges = badgesOf(placeAnodes(anodes(count)))
        expect(new Set(badges.map(({ column, row }) => `${column} ${row}`)).size).toBe(count)
        // 44 px on the 340 px that a phone of 390 px leaves: seven at most.
        expect(Math.max(...badges.map(({ column }) => column))).toBeLessThanOrEqual(7)
      }),
    )
  })
})

describe('an anode drawn with a share of its metal gone', () => {
  it.each(['collar', 'plate', 'teardrop', 'cone', 'disc', 'pencil'] as const)(
    'has lost just that, as a %s',
    (shape) => {
      for (const wasted of [0, 0.25, 0.5, 0.75, 0.95]) {
        const { whole, left, core } = wastedOutline(shape, wasted)
        expect((area(left) - area(core)) / (area(whole) - area(core))).toBeCloseTo(1 - wasted, 6)
      }
    },
  )

  it('is drawn by the word of the trade', () => {
    expect(['shaft collar', 'Teardrop', 'hub cone', 'disc', 'pencil', 'bar', null].map(drawnShapeOf)).toEqual([
      'collar',
      'teardrop',
      'cone',
      'disc',
      'pencil',
      'plate',
      'plate',
    ])
  })
})

describe('a label', () => {
  it.each(['Marsh Harrier', 'Büchner & Söhne', 'نسيم البحر', '⛵️ Wren?', 'a/b#c%'])(
    'names the boat %s that its address was made of',
    (name) => {
      expect(boatOfLabel(`https://anodes.example.org${liftPath({ name })}`)).toBe(name)
    },
  )

  it.each([
    'Marsh Harrier',
    'https://example.org/',
    'https://example.org/lift/',
    'https://example.org/lift/outbox',
    'https://example.org/lift/%E0%A4%A',
    'WIFI:S:yard;;',
  ])('that says %s names none', (text) => {
    expect(boatOfLabel(text)).toBeNull()
  })

  it('leads by its id to a boat whose name is a page of its own', () => {
    expect(liftPath({ id: 'an-id', name: 'outbox' })).toBe('/lift/an-id')
  })
})

describe('the list of the day', () => {
  const lift = (boat: string, hauledOn: string, relaunchedOn: string | null = null): HaulOutView => ({
    id: '0b9f4d6e-6a5e-4f6f-9a58-2f6d6f0a7c11',
    boat,
    hauledOn,
    relaunchedOn,
    planned: true,
    note: null,
    createdAt: '2031-01-01T00:00:00.000Z',
    version: 1,
  })

  it('holds today’s, earlier ones that are still ashore, and the next ones', () => {
    const planned = [
      lift('Late', '2031-04-15'),
      lift('Gone', '2031-04-15', '2031-04-16'),
      lift('Now', '2031-04-18'),
      lift('Soon', '2031-05-16'),
      lift('Far', '2031-05-17'),
    ]
    expect(listedBoats(planned, '2031-04-18').map(({ name, when }) => `${name} ${when}`)).toEqual([
      'Late earlier',
      'Now today',
      'Soon soon',
    ])
  })

  it('finds boats without case and accents, or by their berth', () => {
    const boats = [
      { id: '1', name: 'Sœur Hélène', berth: 'A1' },
      { id: '2', name: 'Helena', berth: 'B14' },
      { id: '3', name: 'Wren', berth: null },
    ]
    const found = (text: string) => boatsFound(boats, text).map(({ name }) => name)
    expect(found('HELEN')).toEqual(['Helena', 'Sœur Hélène'])
    expect(found('b14')).toEqual(['Helena'])
    expect(found('  ')).toEqual([])
  })
})

describe('the parts fitted lately', () => {
  const fitted = [
    anodeOf({ name: 'a', grossMassG: 1250 }),
    anodeOf({ name: 'b', grossMassG: 1262 }),
    anodeOf({ name: 'c', grossMassG: 2400, positionKind: 'hull', shape: 'teardrop' }),
    anodeOf({ name: 'd', grossMassG: null }),
  ]

  it('are one a part, though no two castings weigh the same', () => {
    expect(recentParts(fitted).map(({ grossMassG, fitted: times }) => [grossMassG, times])).toEqual([
      [1250, 2],
      [2400, 1],
    ])
  })

  it('are led by those for the place', () => {
    const hull = anodeOf({ positionKind: 'hull', shape: 'teardrop' })
    expect(partsFor(recentParts(fitted), hull)[0]?.grossMassG).toBe(2400)
  })
})
