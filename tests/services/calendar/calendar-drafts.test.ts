import { describe, expect, it } from 'vitest'
import type { IssuedForecast } from '../../../src/db/repositories/forecasts.js'
import { CalendarWords } from '../../../src/outside/calendar/calendar-words.js'
import { type CalendarFacts, calendarDrafts } from '../../../src/services/calendar/calendar-drafts.js'
import { forecastOf } from '../../web/forecast-of.js'

const TODAY = '2031-04-18'
const words = new CalendarWords('en')

interface Anode {
  readonly id: string
  readonly recommendedOn: string | null
  readonly boat?: string
}

const facts = (anodes: readonly Anode[], lifts: readonly string[]): CalendarFacts => ({
  today: TODAY,
  anodes: anodes.map(({ id, boat = 'Wren' }) => ({ id, boat, anode: `${id} 1`, position: id })),
  forecasts: anodes.map(
    ({ id, recommendedOn }) =>
      ({
        anodeId: id,
        item: forecastOf({ recommendedOn }, { p10: '2031-05-01', p50: '2031-06-01', p90: '2031-08-01' }),
      }) as IssuedForecast,
  ),
  lifts: lifts.map((on) => ({ id: on, boat: 'Wren', on, relaunchedOn: null })),
})

/** What each lift says is to be replaced. */
async function replacedAt(given: CalendarFacts): Promise<Record<string, string[]>> {
  const drafts = await calendarDrafts('yard', given, words)
  return Object.fromEntries(
    drafts.map(({ start, description }) => [
      start,
      [...description.matchAll(/^– (\w+):/gm)].map(([, where]) => where!),
    ]),
  )
}

describe('a lift', () => {
  it('names the anodes that it is the time for', async () => {
    const anodes = [
      { id: 'shaft', recommendedOn: '2031-05-10' },
      { id: 'hull', recommendedOn: '2031-10-01' },
      { id: 'rudder', recommendedOn: '2032-03-01' },
    ]
    expect(await replacedAt(facts(anodes, ['2031-05-10', '2031-10-01']))).toEqual({
      '2031-05-10': ['shaft'],
      '2031-10-01': ['hull'],
    })
  })

  it('names what is due already, and what will be late by then', async () => {
    const anodes = [
      { id: 'shaft', recommendedOn: TODAY },
      { id: 'hull', recommendedOn: '2031-05-01' },
    ]
    expect(await replacedAt(facts(anodes, ['2031-05-10', '2031-10-01']))).toEqual({
      '2031-05-10': ['shaft', 'hull'],
      '2031-10-01': [],
    })
    expect(await replacedAt(facts(anodes, [TODAY]))).toEqual({ [TODAY]: ['shaft'] })
  })

  it('names no anode of another boat, and nothing where it is over', async () => {
    const anodes = [{ id: 'shaft', recommendedOn: TODAY, boat: 'Tern' }]
    expect(await replacedAt(facts(anodes, ['2031-05-10']))).toEqual({ '2031-05-10': [] })
    const [over] = await calendarDrafts('yard', facts([], ['2031-04-01']), words)
    expect(over).toMatchObject({ description: '', isOver: true })
  })
})

describe('an anode', () => {
  it('has a due date, unless it is beyond all forecasts', async () => {
    const anodes = [
      { id: 'shaft', recommendedOn: TODAY },
      { id: 'hull', recommendedOn: '2031-05-01' },
      { id: 'rudder', recommendedOn: null },
    ]
    const drafts = await calendarDrafts('fleet', facts(anodes, []), words)
    expect(drafts.map(({ summary, start, isOverdue }) => `${start} ${isOverdue} ${summary}`)).toEqual([
      `${TODAY} true Wren: anode due, shaft`,
      '2031-05-01 false Wren: replace anode, hull',
    ])
    expect(drafts[1]!.description).toContain('between 1 May 2031 and 1 August 2031, most likely about 1 June 2031')
    expect(drafts[1]!.description).toContain('No lift is planned before then')
  })
})
