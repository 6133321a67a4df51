import { describe, expect, it } from 'vitest'
import type { FindingRow, KeptCheck } from '../../../src/db/repositories/findings.js'
import type { FleetHistory } from '../../../src/engine/rates/fleet-history.js'
import { dayNumber } from '../../../src/services/dates/day-numbers.js'
import { validChecks, withExplainedWear } from '../../../src/services/findings/explained-wear.js'
import { keptFinding } from './kept-finding.js'

const anode = (key: string) => ({
  key,
  anode: key,
  position: 'shaft',
  alloy: null,
  shape: null,
  fittedOn: null,
  removedOn: null,
  fittedGrossMassG: null,
  coreMassG: null,
  dimensions: { lengthMm: null, widthMm: null, heightMm: null },
  threshold: 0.5,
  weighings: [],
})
const HISTORY: FleetHistory = {
  berths: [],
  boats: [{ boat: 'Wren', stays: [], haulOuts: [], anodes: ['w1', 'w2'].map(anode), demandCurrentA: null }],
}

function explainedIn(finding: FindingRow, asOf: string) {
  const { boats } = withExplainedWear(HISTORY, [finding], dayNumber(asOf))
  return Object.fromEntries(boats[0]!.anodes.map(({ key, explained }) => [key, explained]))
}

const check = (on: string, confirms: KeptCheck['confirms']): KeptCheck => ({
  check: 'measure',
  outcome: 'high',
  on,
  note: null,
  confirms,
})

/** Of w1, from 2031-02-01 on. */
const kept = (detail: Partial<FindingRow['detail']>, columns: Partial<FindingRow> = {}) => {
  const finding = keptFinding({ anodes: ['w1'] }, columns)
  return { ...finding, detail: { ...finding.detail, ...detail } }
}
const began = dayNumber('2031-02-01')
const episode = { anodes: ['w1'], from: '2031-02-01', until: '2031-04-10' } as const

describe('wear that findings explain', () => {
  it('is a fault from the day that a check confirmed it until it is mended, on its anodes alone', () => {
    const confirmed = kept({ checks: [check('2031-03-01', 'no-electrical-contact')] })
    expect(explainedIn(confirmed, '2031-03-01')).toEqual({
      w1: [{ from: began, to: null, by: 'fault' }],
      w2: undefined,
    })
    expect(explainedIn(confirmed, '2031-02-28')).toEqual({ w1: undefined, w2: undefined })
    const mended = kept(
      { episodes: [{ ...episode, cause: 'no-electrical-contact' }] },
      { state: 'resolved', resolvedOn: '2031-04-10' },
    )
    expect(explainedIn(mended, '2031-05-01').w1).toEqual([{ from: began, to: dayNumber('2031-04-10'), by: 'fault' }])
    expect(explainedIn(mended, '2031-04-09').w1).toBeUndefined()
  })

  it.each(['none', 'undersized', 'berth-environment', 'wrong-alloy-for-water'] as const)(
    'is ordinary where it turned out to be %s',
    (cause) => {
      const settled = kept({ episodes: [{ ...episode, cause }] }, { state: 'resolved', resolvedOn: '2031-04-10' })
      expect(explainedIn(settled, '2031-05-01').w1).toMatchObject([{ by: 'ordinary' }])
      expect(explainedIn(kept({ checks: [check('2031-03-01', cause)] }), '2031-05-01').w1).toBeUndefined()
    },
  )

  it('stays explained when the fault comes back on another anode', () => {
    const back = keptFinding({ anodes: ['w2'] })
    const again = { ...back, detail: { ...back.detail, episodes: [{ ...episode, cause: 'other' as const }] } }
    expect(explainedIn(again, '2031-06-01')).toMatchObject({ w1: [{ by: 'fault' }], w2: undefined })
  })

  it('is not explained by a finding without a confirmed cause, nor by one that is closed', () => {
    expect(explainedIn(kept({}), '2031-06-01').w1).toBeUndefined()
    expect(explainedIn(kept({ checks: [check('2031-03-01', null)] }), '2031-06-01').w1).toBeUndefined()
    const closed = kept({ checks: [check('2031-03-01', 'other')] }, { state: 'closed' })
    expect(explainedIn(closed, '2031-06-01').w1).toBeUndefined()
  })
})

describe('the checks that hold', () => {
  it('are those since it was mended last, made by the day', () => {
    const finding = kept({
      checks: [check('2031-03-01', null), check('2031-05-01', null), check('2031-06-01', null)],
      episodes: [{ ...episode, cause: 'other' }],
    })
    const days = (asOf: string) => validChecks(finding, dayNumber(asOf)).map(({ on }) => on)
    expect(days('2031-07-01')).toEqual(['2031-05-01', '2031-06-01'])
    expect(days('2031-05-15')).toEqual(['2031-05-01'])
    expect(days('2031-03-15')).toEqual(['2031-03-01'])
  })
})
