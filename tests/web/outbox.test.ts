import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { HaulOutDetail as Detail, NewHaulOut } from '../../src/contract/haul-outs.js'
import { ServiceProblem, Unreachable } from '../../src/web/api/problem.js'
import {
  type Author,
  failureOf,
  nextToSend,
  type OutboxEntry,
  waitsForEarlier,
  withLogged,
} from '../../src/web/offline/outbox-entry.js'
import { fitted } from '../../src/web/offline/shrink-photo.js'
import { newDraft } from '../../src/web/pages/haul-out/draft.js'
import { clashesOf, correctionOf, withoutClashes } from '../../src/web/pages/lift/conflict.js'

const ME: Author = { organisationId: 'yard', actor: 'person:ines@example.org' }

function entryOf(part: Partial<OutboxEntry> & { id: number }): OutboxEntry {
  return {
    key: `key ${part.id}`,
    boat: { id: 'wren', name: 'Wren' },
    author: ME,
    body: { hauledOn: '2031-10-02', weighings: [] },
    anodes: [],
    draft: newDraft('2031-10-02'),
    readOut: [],
    cautions: [],
    photos: [],
    queuedAt: '2031-10-02T09:30:00.000Z',
    state: 'queued',
    refusal: null,
    logged: null,
    sentAt: null,
    ...part,
  }
}

describe('which entry is sent next', () => {
  const boats = ['wren', 'heron', 'tern']
  const entries = fc
    .array(
      fc.record({
        boat: fc.constantFrom(...boats),
        state: fc.constantFrom<OutboxEntry['state']>('queued', 'sending', 'sent', 'refused'),
      }),
      { maxLength: 12 },
    )
    .map((rows) =>
      rows.map(({ boat, state }, index) => entryOf({ id: index + 1, boat: { id: boat, name: boat }, state })),
    )

  it('is the first that waits for nothing, and none is left out', () => {
    fc.assert(
      fc.property(entries, (queue) => {
        const sent: number[] = []
        let now: readonly OutboxEntry[] = queue
        for (let next = nextToSend(now, ME); next !== undefined; next = nextToSend(now, ME)) {
          const { id } = next
          sent.push(id)
          now = now.map((entry) => (entry.id === id ? { ...entry, state: 'sent' } : entry))
        }
        expect(sent).toEqual(sent.toSorted((a, b) => a - b))
        expect(new Set(sent).size).toBe(sent.length)
        const left = now.filter(({ state }) => state === 'queued' || state === 'sending')
        expect(left.every((entry) => waitsForEarlier(entry, now))).toBe(true)
      }),
    )
  })

  it('is nobody else’s', () => {
    const other = entryOf({ id: 1, author: { ...ME, actor: 'person:ada@example.org' } })
    expect(nextToSend([other, entryOf({ id: 2 })], ME)?.id).toBe(2)
  })
})

describe('what a failed attempt means', () => {
  const answered = (status: number, code?: string) => failureOf(new ServiceProblem(status, 'Why.', code, []))

  it.each([
    [401, undefined, 'signed-out'],
    [409, undefined, 'later'],
    [429, undefined, 'later'],
    [500, undefined, 'later'],
    [503, undefined, 'later'],
  ])('%d %s: the entry waits (%s)', (status, code, failure) => {
    expect(answered(status, code)).toBe(failure)
  })

  it.each([
    [400, undefined, 'mend'],
    [403, undefined, 'not-allowed'],
    [404, undefined, 'boat-gone'],
    [409, 'logged-differently', 'conflict'],
    [422, undefined, 'mend'],
  ])('%d %s: the entry was refused (%s)', (status, code, kind) => {
    expect(answered(status, code)).toMatchObject({ kind, detail: 'Why.' })
  })

  it('waits for a network, and for what it does not understand', () => {
    expect(failureOf(new Unreachable(new Error('no network')))).toBe('offline')
    expect(failureOf(new TypeError('made up'))).toBe('later')
  })
})

/** A haul-out as the service shows it, from its documented example. */
const [shown] = z.array(z.unknown()).parse(Detail.meta()?.examples)
const example = Detail.parse(shown)
const theirs = example.weighings[0]!
const mine = entryOf({
  id: 1,
  anodes: ['shaft 2', 'hull 1'],
  body: {
    hauledOn: example.hauledOn,
    note: 'wet day',
    weighings: [
      { anode: 'shaft 2', method: 'scale', massG: { value: 950, unit: 'g' }, replacedBy: { alloy: 'zinc' } },
      { anode: 'hull 1', method: 'visual', wastedPercent: 30 },
    ],
  },
})
const unreplaced = { ...example, replaced: [] }

describe('two phones at one lift', () => {
  it('tells who else’s anodes were there', () => {
    const logged = { ...example, weighings: [theirs, { ...theirs, id: 'x', anode: 'rudder 1' }], refit: null }
    expect(withLogged(mine, logged).logged?.others).toEqual(['rudder 1'])
  })

  it('finds the anodes that both logged', () => {
    expect(clashesOf(mine, example).map(({ anode }) => anode)).toEqual(['shaft 2'])
  })

  it('keeps both readings: theirs as the weighing, this one in the note', () => {
    const next = withoutClashes(mine, clashesOf(mine, example), example, ['Second reading: 950 g.'], 'new key')
    expect(next).toMatchObject({ key: 'new key', state: 'queued', anodes: ['hull 1'] })
    expect(NewHaulOut.parse(next.body)).toMatchObject({
      note: 'wet day\nSecond reading: 950 g.',
      weighings: [{ anode: 'hull 1', wastedPercent: 30 }],
    })
  })

  it('still tells of a new anode that the other one did not log', () => {
    const next = withoutClashes(mine, clashesOf(mine, unreplaced), unreplaced, [], 'new key')
    expect(next.body.weighings?.[0]).toEqual({ anode: 'shaft 2', replacedBy: { alloy: 'zinc' } })
  })

  it('corrects theirs by what was measured here, and nothing else', () => {
    expect(correctionOf(mine.body.weighings![0]!, 'read twice')).toEqual({
      method: 'scale',
      massG: { value: 950, unit: 'g' },
      reason: 'read twice',
    })
  })
})

describe('the size of a photo on the phone', () => {
  it('keeps its sides’ ratio, and is never made larger', () => {
    const side = fc.integer({ min: 1, max: 12_000 })
    fc.assert(
      fc.property(side, side, (width, height) => {
        const size = fitted(width, height)
        expect(Math.max(size.width, size.height)).toBeLessThanOrEqual(1600)
        expect(size.width).toBeLessThanOrEqual(width)
        expect(size.height).toBeLessThanOrEqual(height)
        expect(Math.abs(size.width * height - size.height * width)).toBeLessThanOrEqual(Math.max(width, height))
      }),
    )
  })

  it('of a 48-megapixel picture is what the service keeps', () => {
    expect(fitted(8000, 6000)).toEqual({ width: 1600, height: 1200 })
  })
})
