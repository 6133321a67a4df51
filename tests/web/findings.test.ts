import { createElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import { MemoryRouter } from 'react-router'
import { describe, expect, it } from 'vitest'
import { NewCheck, NewResolution } from '../../src/contract/findings.js'
import { CONFIRMABLE_CAUSES, FINDING_EVENTS, FINDING_STATES } from '../../src/contract/vocabulary.js'
import { SIGNS_AND_SAFETY } from '../../src/engine/reference/signs-and-safety.js'
import english from '../../src/messages/en/findings.json' with { type: 'json' }
import { anodesByBoat, positionsOf, sayAnodesAt } from '../../src/web/pages/findings/anodes-of-finding.js'
import { BalanceView } from '../../src/web/pages/findings/balance.js'
import { BeforeAfter } from '../../src/web/pages/findings/cause-bar.js'
import {
  changed,
  filterOf,
  inOrderOfWork,
  narrowFindings,
  PAGE_SIZE,
  pageOf,
} from '../../src/web/pages/findings/finding-filter.js'
import { sayWho } from '../../src/web/pages/findings/finding-history.js'
import { FindingRow } from '../../src/web/pages/findings/finding-row.js'
import { warnsOfCurrent } from '../../src/web/pages/findings/finding-safety.js'
import {
  sayFinding,
  sayLikeliest,
  sayOnsetSpan,
  sayRate,
  sayRateSpan,
  saySince,
  sayWhere,
} from '../../src/web/pages/findings/finding-sentences.js'
import { sayGain } from '../../src/web/pages/findings/next-check-panel.js'
import { PlainCauses } from '../../src/web/pages/findings/plain-causes.js'
import { checkBody } from '../../src/web/pages/findings/record-check.js'
import { resolutionBody } from '../../src/web/pages/findings/step-forms.js'
import { findingOf } from './finding-of.js'

const textOf = (markup: string) => markup.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ')
const ONE = [{ boat: 'Wren', anode: 'shaft 2', position: 'shaft' }]

describe('a finding in one plain line', () => {
  it.each([
    [{}, 'Wren: its anodes waste fast together'],
    [{ direction: 'slow' as const }, 'Wren: its anodes hardly waste together'],
    [{ scope: 'anode' as const, anode: 'shaft 2', anodes: ONE }, 'Wren: shaft 2 wastes fast'],
    [
      { scope: 'anode' as const, anode: 'shaft 2', anodes: ONE, direction: 'other' as const },
      'Wren: something is wrong with shaft 2',
    ],
    [{ scope: 'berth' as const, boat: null, anodes: ONE }, 'Berth B04: anodes waste fast here'],
    [
      { scope: 'pontoon' as const, boat: null, anodes: [...ONE, { ...ONE[0]!, boat: 'Tern' }] },
      'Pontoon Alder: anodes of 2 boats waste fast',
    ],
  ])('%j', (part, sentence) => {
    expect(sayFinding(findingOf(part))).toBe(sentence)
  })

  it('says where, but not what the subject says already', () => {
    expect(sayWhere(findingOf())).toBe('berth B04, Alder')
    expect(sayWhere(findingOf({ scope: 'berth' }))).toBe('Alder')
    expect(sayWhere(findingOf({ scope: 'pontoon' }))).toBe('')
  })

  it('says since when as an interval, or that it was never otherwise', () => {
    expect(saySince(findingOf())).toBe('about 10 Feb 2031')
    expect(sayOnsetSpan(findingOf())).toBe('20 Jan – 2 Mar 2031')
    expect(saySince(findingOf({ onset: null, since: '2030-05-01' }))).toBe('from the first day on, 1 May 2030')
    expect(sayOnsetSpan(findingOf({ onset: null }))).toBeNull()
  })

  // 8 of 10 lie within 1.2816 standard deviations of a normal distribution.
  it('says the rate beside the one expected, with the interval that holds 8 of 10', () => {
    const sd = Math.log(2) / 1.2815515594457
    expect(sayRate({ logRatio: { mean: Math.log(4), sd } })).toBe('4.0 times the rate expected')
    expect(sayRateSpan({ logRatio: { mean: Math.log(4), sd } })).toBe('between 2.0 and 8.0 times')
    expect(sayRateSpan({ logRatio: { mean: Math.log(0.1), sd } })).toBe('between 5.0 and 20 %')
    expect(sayRateSpan({ logRatio: null })).toBeNull()
    expect(sayRateSpan({ logRatio: { mean: Math.log(3.1), sd: 0.001 } })).toBeNull()
  })

  it('names the confirmed cause before the likeliest one', () => {
    expect(sayLikeliest(findingOf())).toEqual({ cause: 'Stray current from the boat itself', how: 'likely' })
    expect(sayLikeliest(findingOf({ confirmedCause: 'none' }))).toEqual({
      cause: 'Nothing was wrong',
      how: 'confirmed',
    })
  })
})

describe('the list of findings', () => {
  it('reads its filter from the address and forgets what nobody knows', () => {
    const read = (text: string) => filterOf(new URLSearchParams(text))
    expect(read('')).toEqual({ state: 'unsettled', direction: '', pontoon: '', cause: '', page: 1 })
    expect(read('state=resolved&direction=slow&cause=passivated&pontoon=Alder&page=3')).toEqual({
      state: 'resolved',
      direction: 'slow',
      pontoon: 'Alder',
      cause: 'passivated',
      page: 3,
    })
    expect(read('state=lost&direction=up&cause=magic&page=-1')).toEqual(read(''))
  })

  it('begins at the first page again when another filter is set', () => {
    const before = new URLSearchParams('direction=fast&page=4')
    expect(changed(before, 'pontoon', 'Alder').toString()).toBe('direction=fast&pontoon=Alder')
    expect(changed(before, 'direction', '').toString()).toBe('')
    expect(changed(before, 'page', '5').toString()).toBe('direction=fast&page=5')
  })

  it('shows what nobody has looked at first, then what chance explains least, either way', () => {
    const findings = [
      findingOf({ id: '00000000-0000-4000-8000-000000000001', state: 'resolved', surprise: 9 }),
      findingOf({ id: '00000000-0000-4000-8000-000000000002', state: 'open', surprise: 3 }),
      findingOf({ id: '00000000-0000-4000-8000-000000000003', state: 'acknowledged', surprise: 8 }),
      findingOf({ id: '00000000-0000-4000-8000-000000000004', state: 'open', surprise: -6 }),
    ]
    expect(inOrderOfWork(findings).map(({ id }) => Number(id.slice(-1)))).toEqual([4, 2, 3, 1])
  })

  it('keeps what matches every filter', () => {
    const findings = [
      findingOf(),
      findingOf({ direction: 'slow' }),
      findingOf({ pontoon: 'Willow' }),
      findingOf({ causes: [] }),
    ]
    const filter = filterOf(new URLSearchParams('direction=fast&pontoon=Alder&cause=stray-current-onboard'))
    expect(narrowFindings(findings, filter)).toEqual([findings[0]])
  })

  it('turns pages, and shows the last where there is none so far on', () => {
    const items = Array.from({ length: 2 * PAGE_SIZE + 1 }, (_, index) => index)
    expect(pageOf(items, 2).items[0]).toBe(PAGE_SIZE)
    expect(pageOf(items, 9)).toEqual({ items: [2 * PAGE_SIZE], page: 3, pages: 3 })
    expect(pageOf([], 1)).toEqual({ items: [], page: 1, pages: 1 })
  })

  it('tells direction by word and sign, and shows an owner no check', () => {
    const row = (isOwner: boolean) =>
      renderToStaticMarkup(
        createElement(
          MemoryRouter,
          {},
          createElement(FindingRow, { finding: findingOf({ direction: 'slow' }), isOwner }),
        ),
      )
    expect(textOf(row(false))).toMatch(/▽ Hardly wastes .* Read the hull with the shore lead in and out/)
    expect(textOf(row(true))).not.toContain('Read the hull')
  })
})

describe('a finding', () => {
  it('lays out what speaks for a cause and what against, with odds', () => {
    const { causes } = findingOf()
    const text = textOf(renderToStaticMarkup(createElement(BalanceView, { cause: causes[0]!, causes })))
    expect(text).toMatch(/Speaks for it .*0\.29 V.* 22 times likelier .* Speaks against it .*No crust.* less likely/)
  })

  it('shows how probabilities move, the likeliest afterwards first', () => {
    const { causes, nextCheck } = findingOf()
    const after = nextCheck!.outcomes[0]!.would
    const text = textOf(renderToStaticMarkup(createElement(BeforeAfter, { before: causes, after, caption: 'Moved' })))
    expect(text).toMatch(/shore lead 19 % 70 % Stray current from the boat itself 81 % 30 %/)
  })

  // Entropy of 1/2, 1/2 is ln 2; a check that gains half of it takes half of the doubt.
  it('says what share of the doubt a check should take', () => {
    const even = findingOf().causes.map((cause) => ({ ...cause, probability: 0.5 }))
    expect(sayGain(Math.LN2 / 2, even)).toContain('about 50 % of the doubt')
    expect(sayGain(0.1, [{ ...even[0]!, probability: 1 }])).not.toContain('%')
  })

  it('tells an owner in plain words, without odds', () => {
    const text = textOf(renderToStaticMarkup(createElement(PlainCauses, { finding: findingOf() })))
    expect(text).toContain('Something on board leaks electric current into the water. likely, 81 %')
    expect(text).not.toContain('times likelier')
  })

  it('says who took a step', () => {
    expect(sayWho('person:ada@example.org')).toBe(', by ada@example.org')
    expect(sayWho('refit')).toBe(', from the weighings')
    expect(sayWho(null)).toBe('')
  })

  it('has words for every cause, state and step', () => {
    expect(Object.keys(english.cause).toSorted()).toEqual([...CONFIRMABLE_CAUSES].toSorted())
    expect(Object.keys(english.state).toSorted()).toEqual([...FINDING_STATES].toSorted())
    expect(Object.keys(english.event).toSorted()).toEqual([...FINDING_EVENTS].toSorted())
  })
})

describe('the cautions of a finding', () => {
  it('tell current in the water from others', () => {
    const textOfRule = (key: string) => SIGNS_AND_SAFETY.find((rule) => rule.key === key)?.text ?? ''
    expect(warnsOfCurrent({ safety: [textOfRule('thin-fitting')] })).toBe(false)
    expect(warnsOfCurrent({ safety: [textOfRule('thin-fitting'), textOfRule('electric-shock-drowning')] })).toBe(true)
  })
})

describe('the places of a finding', () => {
  const anode = (name: string, position: string, removedOn: string | null, fittedOn: string) => ({
    anode: name,
    position,
    positionSlot: 1,
    alloy: 'zinc' as const,
    shape: null,
    fittedOn,
    removedOn,
    coreMassG: null,
    fittedMassG: null,
    thresholdMassG: null,
    weighings: [],
    curve: [],
    forecast: null,
  })
  const depletion = {
    boat: 'Wren',
    asOf: '2031-04-18',
    anodes: [
      anode('shaft 1', 'shaft', '2030-04-18', '2029-04-18'),
      anode('shaft 2', 'shaft', null, '2030-04-18'),
      anode('hull 1', 'hull', null, '2029-04-18'),
      anode('skeg 1', 'skeg', '2030-04-18', '2029-04-18'),
    ],
  }

  it('show an anode that was replaced at its position, once, and one whose place is empty by itself', () => {
    const positions = positionsOf(depletion, ['shaft 1', 'shaft 2', 'skeg 1'])
    expect(positions.map(({ current }) => current.anode)).toEqual(['shaft 2', 'skeg 1'])
  })

  it('name the anodes that share in it, and what has taken their place', () => {
    const [shaft] = positionsOf(depletion, ['shaft 1'])
    expect(sayAnodesAt(shaft!, ['shaft 1'])).toBe('shaft 1, since replaced by shaft 2')
    expect(sayAnodesAt(shaft!, ['shaft 2', 'shaft 1'])).toBe('shaft 1, shaft 2')
  })

  it('are gathered by boat', () => {
    const gathered = anodesByBoat([...ONE, { boat: 'Tern', anode: 'hull 1' }, { boat: 'Wren', anode: 'hull 3' }])
    expect([...gathered]).toEqual([
      ['Wren', ['shaft 2', 'hull 3']],
      ['Tern', ['hull 1']],
    ])
  })
})

describe('the forms of a finding', () => {
  const check = { check: 'unplug-shift', outcome: 'steady', on: '2031-04-18', note: ' ', confirms: '' } as const

  it('send what the service takes', () => {
    expect(NewCheck.parse(checkBody(check))).toEqual({ check: 'unplug-shift', outcome: 'steady', on: '2031-04-18' })
    const whole = checkBody({ ...check, note: '14 ohm', confirms: 'other' })
    expect(NewCheck.parse(whole)).toMatchObject({ note: '14 ohm', confirms: 'other' })
    const resolution = { text: 'new strap', on: '2031-04-18', cause: 'no-electrical-contact' } as const
    expect(NewResolution.parse(resolutionBody(resolution))).toEqual(resolution)
  })

  it('name every field that is missing', () => {
    expect(checkBody({ ...check, check: '' })).toEqual(new Map([['check', expect.any(String)]]))
    expect(checkBody({ ...check, outcome: '' })).toEqual(new Map([['outcome', expect.any(String)]]))
    const missing = resolutionBody({ text: ' ', on: '', cause: '' })
    expect(missing instanceof Map && [...missing.keys()].toSorted()).toEqual(['cause', 'on', 'text'])
  })
})
