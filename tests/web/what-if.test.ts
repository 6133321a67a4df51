import { describe, expect, it } from 'vitest'
import { WhatIf } from '../../src/contract/what-if.js'
import {
  ASHORE,
  changedLift,
  changedStay,
  newPlan,
  planBody,
  problemsAt,
  withLift,
  withoutEntry,
  withoutProblems,
  withStay,
} from '../../src/web/pages/boat/what-if/plan-draft.js'
import { byDueDate, planAxis, sayPlanned, sayShift } from '../../src/web/pages/boat/what-if/plan-words.js'
import { placeOn, quartersOn } from '../../src/web/pages/fleet/date-axis.js'
import { forecastOf } from './forecast-of.js'

const TODAY = '2031-04-18'

describe('a plan as typed', () => {
  it('begins with a stay ashore from today on, which the service would take', () => {
    const { body, problems } = planBody(newPlan(TODAY))
    expect(problems.size).toBe(0)
    expect(WhatIf.parse(body).stays).toMatchObject([{ fromOn: TODAY, berth: null }])
  })

  it('goes on with stays that begin where the one before ends, and with lifts', () => {
    const two = changedStay(withStay(newPlan(TODAY)), 1, { berth: 'B14' })
    const plan = changedLift(withLift(two), 2, '2031-09-01')
    const { body } = planBody(plan)
    const [first, second] = WhatIf.parse(body).stays
    expect(second).toEqual({ fromOn: first?.toOn, toOn: null, berth: 'B14' })
    expect(body.haulOuts).toEqual(['2031-09-01'])
  })

  it('takes out the entry that was meant, and only that', () => {
    const plan = withoutEntry(withLift(withStay(newPlan(TODAY))), 0)
    expect(plan.stays.map(({ key }) => key)).toEqual([1])
    expect(plan.lifts.map(({ key }) => key)).toEqual([2])
  })

  it('says which dates it lacks, by pointer into the request', () => {
    const open = changedStay(newPlan(TODAY), 0, { toOn: '' })
    expect(planBody(open).problems.size).toBe(0)
    const { problems } = planBody(withLift(withStay(open)))
    expect([...problems.keys()]).toEqual(['/stays/0/toOn', '/stays/1/fromOn', '/haulOuts/0'])
    expect([...planBody(withoutEntry(open, 0)).problems.keys()]).toEqual([''])
  })

  it('keeps each of the service’s errors at its field, the first of several, others at the plan', () => {
    const problems = problemsAt([
      { pointer: '/stays/0/berth', detail: 'No such berth.' },
      { pointer: '/stays/0/berth', detail: 'Another.' },
      { pointer: '/stays', detail: 'Too many.' },
    ])
    expect([...problems]).toEqual([
      ['/stays/0/berth', 'No such berth.'],
      ['', 'Too many.'],
    ])
    expect([...withoutProblems(problems, ['/stays/0/berth']).keys()]).toEqual([''])
  })

  it('has a word for ashore that no berth can be called', () => {
    expect(WhatIf.safeParse({ stays: [{ fromOn: TODAY, berth: ASHORE }] }).success).toBe(false)
  })
})

describe('what a plan changes, in words', () => {
  it.each([
    ['2031-04-18', '2031-05-11', '23 days later'],
    ['2031-05-11', '2031-04-18', '23 days earlier'],
    ['2031-04-18', '2031-04-19', '1 day later'],
    ['2031-04-18', '2031-10-18', '6 months later'],
    ['2031-04-18', '2031-04-18', 'no change'],
    [null, null, 'no change'],
    ['2031-04-18', null, 'later, over 30 years away'],
    [null, '2060-04-18', 'earlier, within 30 years'],
  ])('from %s to %s: %s', (now, planned, words) => {
    expect(sayShift(now, planned, '2031-01-01')).toBe(words)
  })

  it('says of a threshold that is probably reached that it is, not how a plan moves it', () => {
    expect(sayShift('2031-03-01', '2031-03-02', TODAY)).toBe('probably due already')
    expect(sayShift('2031-04-01', '2031-05-01', TODAY)).toBe('30 days later')
    expect(sayPlanned([anodeOf('e', '2031-03-01', '2031-03-02')])).toMatch(/due already/)
  })

  const anodeOf = (anode: string, now: string | null, planned: string | null) => ({
    anode,
    position: 'shaft',
    now: forecastOf({ anode }, { p50: now, p90: now }),
    planned: forecastOf({ anode }, { p50: planned, p90: planned }),
  })
  const anodes = [
    anodeOf('a', null, null),
    anodeOf('b', '2031-06-01', '2033-06-01'),
    anodeOf('c', '2031-07-01', '2032-06-01'),
  ]

  it('lists the anodes as they are due now, and names the first due as planned', () => {
    expect(byDueDate(anodes).map(({ anode }) => anode)).toEqual(['b', 'c', 'a'])
    expect(sayPlanned(anodes)).toBe('As planned c is due first, around 1 Jun 2032.')
    expect(sayPlanned([])).toMatch(/^No anode/)
    expect(sayPlanned(anodes.slice(0, 1))).toMatch(/within 30 years/)
  })

  it('draws them on one calendar that holds every date up to six years ahead', () => {
    const axis = planAxis(TODAY, anodes)
    expect(placeOn(axis, '2033-06-01')).toBeLessThan(1)
    expect(quartersOn(axis)).toEqual(['2032-01-01', '2033-01-01'])
    const far = planAxis(TODAY, [anodeOf('d', '2031-06-01', '2051-06-01')])
    expect(far.to).toBe('2037-04-01')
    expect(planAxis(TODAY, []).to).toBe('2032-10-01')
  })
})
