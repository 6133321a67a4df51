import { describe, expect, it } from 'vitest'
import type { Why } from '../../src/contract/notices.js'
import { type BoatLetterFacts, boatLetter } from '../../src/outside/letters/boat-letter.js'
import { plainText } from '../../src/outside/letters/letter.js'
import { summaryLetter } from '../../src/outside/letters/summary-letter.js'
import type { NextLift } from '../../src/presentation/next-lift.js'
import { findingOf } from '../web/finding-of.js'

const TODAY = '2031-04-18'
const READING = { language: 'en', massUnit: null } as const
const FOUND: Why = { boat: 'Wren', anode: null, because: 'finding', recommendedOn: null, finding: null }

const due = (recommendedOn: string, boat = 'Wren'): Why => ({
  boat,
  anode: 'shaft 1',
  because: 'first',
  recommendedOn,
  finding: null,
})

const liftOn = (on: string, planned: boolean): NextLift => ({
  lift: { on, planned },
  following: { on: '2032-10-01', planned: false },
  replace: ['shaft 1'],
  parts: [{ alloy: 'zinc', shape: 'shaft collar', massG: 1300, count: 1 }],
  unknown: [],
})

async function letterAbout(part: Partial<BoatLetterFacts>) {
  const letter = await boatLetter({
    reading: READING,
    yard: 'Kestrel Basin',
    email: 'ada@example.org',
    boat: 'Wren',
    today: TODAY,
    why: [due('2031-06-01')],
    depletion: { boat: 'Wren', asOf: TODAY, anodes: [] },
    findings: [],
    nextLift: liftOn('2031-10-01', false),
    links: { boat: 'https://a.example.org/b', choose: 'https://a.example.org/c' },
    ...part,
  })
  return { subject: letter.subject, text: plainText(letter).replaceAll(/\s+/g, ' ') }
}

describe('a letter about one boat', () => {
  it('says in its subject that something was found, beside the date', async () => {
    const { subject } = await letterAbout({ why: [due('2031-06-01'), FOUND], findings: [findingOf()] })
    expect(subject).toBe('Wren: anodes due by 1 June 2031, and something to look at')
    expect((await letterAbout({})).subject).toBe('Wren: anodes due by 1 June 2031')
  })

  it('has the caution of a leak of current in front of the shopping', async () => {
    const { text } = await letterAbout({ findings: [findingOf()] })
    const [caution, order] = [text.indexOf('Nobody in the water near the boat'), text.indexOf('WHAT TO ORDER')]
    expect(caution).toBeGreaterThan(0)
    expect(order).toBeGreaterThan(caution)
  })

  it('asks for an earlier lift where the planned one is late, for the next free one where none is planned', async () => {
    const why = [due(TODAY)]
    const late = await letterAbout({ why, nextLift: liftOn('2031-10-01', true) })
    expect(late.text).toContain('before the lift that is planned for 1 October 2031. Ask the yard for an earlier one.')
    expect((await letterAbout({ why })).text).toContain('Ask the yard for the next free lift.')
    const inTime = await letterAbout({ why, nextLift: liftOn(TODAY, true) })
    expect(inTime.text).toContain('nothing more for you to arrange')
  })
})

describe('a letter about many boats', () => {
  const of = (why: readonly Why[]) =>
    plainText(
      summaryLetter({
        reading: READING,
        yard: 'Kestrel Basin',
        email: 'ada@example.org',
        today: TODAY,
        why,
        links: { boats: 'https://a.example.org/b', choose: 'https://a.example.org/c' },
      }),
    ).replaceAll(/\s+/g, ' ')

  it('says of a boat with a date and a finding both', () => {
    const text = of([due('2031-06-01'), FOUND, due('2031-07-01', 'Heron'), { ...FOUND, boat: 'Teal' }])
    expect(text).toContain('- Wren: by 1 June 2031. An anode there does not wear as it should.')
    expect(text).toContain('- Heron: by 1 July 2031 -')
    expect(text).toContain('- Teal: an anode does not wear as it should')
  })

  it('warns of current in the water, as a letter about one boat does', () => {
    expect(of([due('2031-06-01')])).toContain('nobody in the water near the boat')
  })
})
