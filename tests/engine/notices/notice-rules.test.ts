import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type DueAnode,
  dueNotice,
  type NoticeState,
  SECOND_NOTICE_DAYS,
  type Told,
} from '../../../src/engine/notices/notice-rules.js'

const WISHES = { leadDays: 60, snoozedUntil: null, isStopped: false }

function anode(recommendedOn: number | null, key = 'shaft 1'): DueAnode {
  const near = (days: number) => (recommendedOn === null ? null : recommendedOn + days)
  return { key, recommendedOn, p10: near(0), p50: near(30), p90: near(60) }
}

/** A recipient's memory over many days. */
class Reader {
  readonly letters: { on: number; anodes: readonly string[]; findings: readonly string[] }[] = []
  readonly anodes = new Map<string, Told>()
  readonly findings = new Set<string>()

  look(today: number, rest: Partial<NoticeState>): ReturnType<typeof dueNotice> {
    const state = { anodes: [], findings: [], wishes: WISHES, ...rest, today }
    const notice = dueNotice({ ...state, toldOfAnodes: this.anodes, toldOfFindings: this.findings })
    if (notice === null) return null
    for (const { key, stage, turn } of notice.anodes) {
      const { p10, p90 } = state.anodes.find((each) => each.key === key)!
      this.anodes.set(key, { stage, turn, on: today, p10, p90 })
    }
    for (const key of notice.findings) this.findings.add(key)
    const told = notice.anodes.map(({ key, because, stage, turn }) => `${key} ${because} ${stage} ${turn}`)
    this.letters.push({ on: today, anodes: told, findings: notice.findings })
    return notice
  }
}

describe('dueNotice', () => {
  it('tells of a date once when it comes within the lead time, and once more two weeks before', () => {
    const reader = new Reader()
    for (let today = 0; today < 250; today++) reader.look(today, { anodes: [anode(200)] })
    expect(reader.letters).toEqual([
      { on: 140, anodes: ['shaft 1 first first 0'], findings: [] },
      { on: 186, anodes: ['shaft 1 second second 0'], findings: [] },
    ])
  })

  it('merges a boat into one letter, and lets what is near go along', () => {
    const reader = new Reader()
    const anodes = [anode(60, 'a'), anode(80, 'b'), anode(200, 'c')]
    reader.look(0, { anodes, findings: ['worn'] })
    expect(reader.letters).toEqual([{ on: 0, anodes: ['a first first 0', 'b first first 0'], findings: ['worn'] }])
    expect(reader.look(1, { anodes, findings: ['worn'] })).toBeNull()
  })

  it('says that a forecast moved by more than its interval, then tells of the new date in its turn', () => {
    const reader = new Reader()
    reader.look(0, { anodes: [anode(50)] })
    for (let today = 30; today < 700; today++) reader.look(today, { anodes: [anode(600)] })
    expect(reader.letters.map(({ on, anodes }) => [on, anodes[0]])).toEqual([
      [0, 'shaft 1 first first 0'],
      [30, 'shaft 1 moved silent 1'],
      [540, 'shaft 1 first first 1'],
      [586, 'shaft 1 second second 1'],
    ])
  })

  it('tells of a date that vanished beyond the horizon', () => {
    const reader = new Reader()
    reader.look(0, { anodes: [anode(50)] })
    expect(reader.look(40, { anodes: [anode(null)] })?.anodes).toEqual([
      { key: 'shaft 1', because: 'moved', stage: 'silent', turn: 1 },
    ])
    expect(reader.look(90, { anodes: [anode(null)] })).toBeNull()
  })

  it('is silent for those who stopped, and late for those who snoozed', () => {
    const reader = new Reader()
    expect(reader.look(0, { anodes: [anode(5)], wishes: { ...WISHES, isStopped: true } })).toBeNull()
    expect(reader.look(0, { anodes: [anode(5)], wishes: { ...WISHES, snoozedUntil: 10 } })).toBeNull()
    expect(reader.look(10, { anodes: [anode(5)], wishes: { ...WISHES, snoozedUntil: 10 } })?.anodes).toHaveLength(1)
  })

  it('tells of a finding once, and of its return', () => {
    const reader = new Reader()
    reader.look(0, { findings: ['f'] })
    expect(reader.look(5, { findings: ['f'] })).toBeNull()
    expect(reader.look(9, { findings: ['f again'] })?.findings).toEqual(['f again'])
  })

  const seasons = fc.array(
    fc.record({
      /** Days since the last look: the service may have been down for weeks. */
      pause: fc.integer({ min: 0, max: 40 }),
      looks: fc.integer({ min: 1, max: 3 }),
      due: fc.option(fc.integer({ min: -100, max: 900 }), { nil: null }),
      isReplaced: fc.boolean(),
    }),
    { minLength: 1, maxLength: 40 },
  )

  it('never says the same twice, and nothing of an anode that has gone', () => {
    fc.assert(
      fc.property(seasons, (days) => {
        const reader = new Reader()
        let today = 0
        for (const { pause, looks, due, isReplaced } of days) {
          today += pause
          const before = reader.letters.length
          for (let look = 0; look < looks; look++) reader.look(today, { anodes: isReplaced ? [] : [anode(due)] })
          expect(reader.letters.length - before).toBeLessThanOrEqual(isReplaced ? 0 : 1)
        }
        const said = reader.letters.flatMap(({ anodes }) =>
          anodes.map((each) => each.replace(/ (first|second|moved) /, ' ')),
        )
        expect(new Set(said).size).toBe(said.length)
      }),
    )
  })

  it('loses nothing: whoever is two weeks from a date that stands has been told of it', () => {
    fc.assert(
      fc.property(seasons, fc.integer({ min: 0, max: 800 }), (days, lastDue) => {
        const reader = new Reader()
        let today = 0
        for (const { pause, due } of days) {
          today += pause
          reader.look(today, { anodes: [anode(due)] })
        }
        const last = Math.max(today, lastDue - SECOND_NOTICE_DAYS)
        reader.look(last, { anodes: [anode(lastDue)] })
        expect(reader.anodes.get('shaft 1')?.stage).toBe('second')
      }),
    )
  })
})
