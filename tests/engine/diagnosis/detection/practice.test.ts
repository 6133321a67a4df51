import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { findByPractice, judgeByPractice } from '../../../../src/engine/diagnosis/detection/practice.js'
import { ExposureCalendar } from '../../../../src/engine/rates/exposure-calendar.js'
import {
  inspectionIntervalDays,
  normalLifeDays,
  normalLifeRangeDays,
} from '../../../../src/engine/rates/normal-life.js'
import type { ObservedBoat } from '../../../../src/engine/rates/rate-intervals.js'
import { SeasonClock } from '../../../../src/engine/rates/season.js'
import { observedAnode } from './observed-anode.js'

const RANK = { slow: -1, fast: 1 }
const rankOf = (judgement: ReturnType<typeof judgeByPractice>) => (judgement === null ? 0 : RANK[judgement.direction])

describe('judgeByPractice', () => {
  // Common practice (row `salt-temperate`): an anode is due after nine to eighteen months in temperate salt water.
  it.each(normalLifeRangeDays().map((days) => Math.round(days)))(
    'finds nothing in an anode due after %d days',
    (days) => {
      expect(judgeByPractice(observedAnode({ lossG: 500, days }))).toBeNull()
    },
  )

  it('calls an anode fast that is half gone in two months', () => {
    const judged = judgeByPractice(observedAnode({ lossG: 500, days: 60 }))!
    expect(judged.direction).toBe('fast')
    expect(judged.score).toBeGreaterThan(2)
    expect(judged.logRatio.mean).toBeCloseTo(Math.log(normalLifeDays() / 60), 9)
  })

  it('calls an anode slow that is as new after two years in the water', () => {
    const judged = judgeByPractice(observedAnode({ lossG: 4, days: 730 }))!
    expect(judged.direction).toBe('slow')
    expect(judged.score).toBeLessThan(-2)
  })

  it.each([
    ['before a season has gone by', { days: inspectionIntervalDays() - 20 }],
    ['where nobody weighed it when it was fitted', { fromFitting: false }],
    ['where the scale is too coarse to tell', { errorG: 40 }],
    ['where it never was in the water', { days: 0 }],
  ])('calls no anode slow %s', (_, draw) => {
    expect(judgeByPractice(observedAnode({ lossG: 4, days: 730, ...draw }))).toBeNull()
  })

  it('calls no anode fast on a loss within its error', () => {
    expect(judgeByPractice(observedAnode({ lossG: 60, days: 7, errorG: 30 }))).toBeNull()
  })

  it('does not take up again what somebody has settled, but what still goes on', () => {
    const fast = { lossG: 500, days: 60 }
    const span = (to: number | null) => [{ from: 0, to, by: 'fault' as const }]
    expect(judgeByPractice(observedAnode({ ...fast, explained: span(60) }))).toBeNull()
    expect(judgeByPractice(observedAnode({ ...fast, explained: span(null) }))).not.toBeNull()
  })

  it('never goes from fast towards slow as more is lost, and never scores less', () => {
    const loss = fc.double({ min: 0, max: 1000, noNaN: true })
    const days = fc.integer({ min: 10, max: 1500 })
    fc.assert(
      fc.property(loss, loss, days, (one, other, exposure) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)].map((lossG) =>
          judgeByPractice(observedAnode({ lossG, days: exposure })),
        )
        expect(rankOf(more!)).toBeGreaterThanOrEqual(rankOf(less!))
        if (less !== null && more !== null) expect(more!.score).toBeGreaterThanOrEqual(less!.score - 1e-12)
      }),
    )
  })

  it('says the same of an anode twice as heavy that loses twice as much', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 900, noNaN: true }), fc.integer({ min: 20, max: 1200 }), (lossG, days) => {
        const [one, twice] = [1, 2].map((times) =>
          judgeByPractice(observedAnode({ netMassG: 1000 * times, lossG: lossG * times, errorG: 3 * times, days })),
        )
        expect(rankOf(twice!)).toBe(rankOf(one!))
        expect(twice?.score ?? 0).toBeCloseTo(one?.score ?? 0, 9)
      }),
    )
  })
})

describe('findByPractice', () => {
  const KEYS = ['shaft', 'hull', 'rudder']
  const clock = new SeasonClock({ cos: 0, sin: 0, warmestDay: 200 })
  const notKnown = () => false

  /** A boat of three places, of which the given ones are half gone in two months. */
  function boatOf(fast: readonly string[]): ObservedBoat {
    const anodes = KEYS.map((key) =>
      observedAnode({ key, position: key, ...(fast.includes(key) ? { lossG: 500, days: 60 } : { lossG: 300 }) }),
    )
    const history = {
      boat: 'Wren',
      stays: [],
      haulOuts: [],
      anodes: anodes.map((anode) => anode.history),
      demandCurrentA: null,
    }
    return { history, calendar: new ExposureCalendar(history, 900, clock), anodes, logDemand: new Map() }
  }
  const places = KEYS.map((key) => [key])

  it('finds nothing on a boat that wears as is common', () => {
    expect(findByPractice(boatOf([]), places, notKnown)).toEqual([])
  })

  it('tells one anode of three by itself, two of three as the boat', () => {
    expect(findByPractice(boatOf(['hull']), places, notKnown)).toMatchObject([{ scope: 'anode', anodes: ['hull'] }])
    expect(findByPractice(boatOf(['hull', 'rudder']), places, notKnown)).toMatchObject([
      { scope: 'boat', boat: 'Wren', anodes: ['hull', 'rudder'], judgement: { direction: 'fast' } },
    ])
  })

  it('leaves out what is part of an anomaly that way already, not what is part of one the other way', () => {
    const known = (direction: string) => (anode: string, way: string) => anode === 'hull' && way === direction
    expect(findByPractice(boatOf(['hull']), places, known('fast'))).toEqual([])
    expect(findByPractice(boatOf(['hull']), places, known('slow'))).toHaveLength(1)
  })
})
