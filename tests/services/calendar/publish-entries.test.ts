import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type EntryDraft, type PublishedEntry, publishEntries } from '../../../src/services/calendar/publish-entries.js'

const draft = (uid: string, start: string, more: Partial<EntryDraft> = {}): EntryDraft => ({
  uid,
  start,
  end: start,
  summary: `Event ${uid}`,
  description: '',
  category: 'Lift',
  path: '/boats/Wren',
  isOverdue: false,
  isOver: false,
  ...more,
})
const on = (today: string) => ({ today, now: `${today}T06:00:00.000Z` })
const numbers = (entries: readonly PublishedEntry[]) =>
  entries.map(({ uid, sequence, state, content }) => `${uid} ${content.start} ${sequence} ${state}`)

/** What is remembered after a publication. */
function remembered(before: readonly PublishedEntry[], changed: readonly PublishedEntry[]): PublishedEntry[] {
  const kept = new Map(before.map((entry) => [entry.uid, entry]))
  for (const entry of changed) kept.set(entry.uid, entry)
  return [...kept.values()]
}

describe('a publication', () => {
  it('raises the sequence of what changed, and of nothing else', () => {
    const first = publishEntries([], [draft('a', '2031-05-01'), draft('b', '2031-06-01')], on('2031-04-18'))
    expect(numbers(first.entries)).toEqual(['a 2031-05-01 0 confirmed', 'b 2031-06-01 0 confirmed'])
    const same = publishEntries(first.changed, [draft('a', '2031-05-01'), draft('b', '2031-06-01')], on('2031-04-19'))
    expect(same.entries).toEqual(first.entries)
    expect(same.changed).toEqual([])
    const moved = publishEntries(first.changed, [draft('a', '2031-05-03'), draft('b', '2031-06-01')], on('2031-04-20'))
    expect(numbers(moved.entries)).toEqual(['a 2031-05-03 1 confirmed', 'b 2031-06-01 0 confirmed'])
    expect(moved.changed.map(({ uid, changedAt }) => `${uid} ${changedAt}`)).toEqual(['a 2031-04-20T06:00:00.000Z'])
  })

  it('calls off what is no longer there, once, and goes on with its sequence when it is back', () => {
    const first = publishEntries([], [draft('a', '2031-05-01')], on('2031-04-18'))
    const off = publishEntries(first.changed, [], on('2031-04-19'))
    expect(numbers(off.entries)).toEqual(['a 2031-05-01 1 cancelled'])
    expect(publishEntries(off.changed, [], on('2031-04-25')).changed).toEqual([])
    const back = publishEntries(off.changed, [draft('a', '2031-05-01')], on('2031-04-26'))
    expect(numbers(back.entries)).toEqual(['a 2031-05-01 2 confirmed'])
  })

  it('forgets nothing: what was called off long ago is silent, and goes on with its sequence too', () => {
    const first = publishEntries([], [draft('a', '2032-05-01')], on('2031-04-18'))
    const off = publishEntries(first.changed, [], on('2031-04-19'))
    expect(publishEntries(off.changed, [], on('2031-07-18')).entries).toHaveLength(1)
    expect(publishEntries(off.changed, [], on('2031-07-19')).entries).toEqual([])
    const back = publishEntries(off.changed, [draft('a', '2032-05-01')], on('2031-12-01'))
    expect(numbers(back.entries)).toEqual(['a 2032-05-01 2 confirmed'])
  })

  it('lets a lift of long ago go without calling it off', () => {
    const first = publishEntries([], [draft('a', '2031-04-01')], on('2031-04-18'))
    const later = publishEntries(first.changed, [], on('2031-06-01'))
    expect(later).toEqual({ entries: [], changed: [] })
  })

  it('leaves what is over as it was given out, unless its days were mended', () => {
    const first = publishEntries(
      [],
      [draft('a', '2031-04-20', { description: 'replace the shaft anode' })],
      on('2031-04-18'),
    )
    const over = (start: string) => [draft('a', start, { isOver: true, description: '' })]
    const after = publishEntries(first.changed, over('2031-04-20'), on('2031-04-22'))
    expect(after.changed).toEqual([])
    expect(after.entries).toEqual(first.entries)
    const mended = publishEntries(first.changed, over('2031-04-21'), on('2031-04-22'))
    expect(numbers(mended.entries)).toEqual(['a 2031-04-21 1 confirmed'])
  })

  it('leaves what may be due already on its day, and says so once', () => {
    const first = publishEntries([], [draft('a', '2031-04-20')], on('2031-04-18'))
    const due = (today: string) => [draft('a', today, { isOverdue: true, summary: 'due' })]
    const now = publishEntries(first.changed, due('2031-04-20'), on('2031-04-20'))
    expect(numbers(now.entries)).toEqual(['a 2031-04-20 1 confirmed'])
    const later = publishEntries(now.changed, due('2031-05-30'), on('2031-05-30'))
    expect(numbers(later.entries)).toEqual(['a 2031-04-20 1 confirmed'])
    expect(later.changed).toEqual([])
  })

  it('moves what was far off to today when it may suddenly be due', () => {
    const first = publishEntries([], [draft('a', '2031-09-20')], on('2031-04-18'))
    const now = publishEntries(first.changed, [draft('a', '2031-04-19', { isOverdue: true })], on('2031-04-19'))
    expect(numbers(now.entries)).toEqual(['a 2031-04-19 1 confirmed'])
  })

  it('never lowers a sequence, and raises it exactly when something differs, whatever happens', () => {
    const day = fc.integer({ min: 1, max: 28 }).map((at) => `2031-05-${String(at).padStart(2, '0')}`)
    const step = fc.uniqueArray(fc.record({ uid: fc.constantFrom('a', 'b', 'c'), start: day }), {
      selector: ({ uid }) => uid,
    })
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        let kept: PublishedEntry[] = []
        steps.forEach((present, index) => {
          const drafts = present.map(({ uid, start }) => draft(uid, start))
          const today = `2031-05-${String(index + 1).padStart(2, '0')}`
          const { entries, changed } = publishEntries(kept, drafts, on(today))
          for (const entry of entries) {
            const old = kept.find(({ uid }) => uid === entry.uid)
            const differs = old === undefined || old.state !== entry.state || old.content.start !== entry.content.start
            expect(entry.sequence).toBe(old === undefined ? 0 : old.sequence + (differs ? 1 : 0))
            expect(changed.includes(entry)).toBe(differs)
          }
          expect(
            entries
              .filter(({ state }) => state === 'confirmed')
              .map(({ uid }) => uid)
              .sort(),
          ).toEqual(present.map(({ uid }) => uid).sort())
          kept = remembered(kept, changed)
        })
      }),
    )
  })
})
