import type { FindingDetail, FindingItem } from '../../src/contract/findings.js'

/** Evidence of a kind that the page does not know: it stands as the service said it. */
export function quoted(observation: string, what: string, weight: number) {
  return { observation, what, code: 'not-known-yet', values: {}, weight }
}

/** A finding in which only what a test is about is said: all bonded anodes of one boat waste fast. */
export function findingOf(part: Partial<FindingItem> = {}): FindingItem {
  return {
    id: '7b2f7a0e-3f0a-4a38-9d0b-1a5d2f1f9c01',
    scope: 'boat',
    boat: 'Wren',
    anode: null,
    position: null,
    berth: 'B04',
    pontoon: 'Alder',
    anodes: [
      { boat: 'Wren', anode: 'shaft 2', position: 'shaft' },
      { boat: 'Wren', anode: 'hull 3', position: 'hull' },
    ],
    direction: 'fast',
    noticedBy: 'interval',
    since: '2031-02-10',
    onset: { p10: '2031-01-20', p50: '2031-02-10', p90: '2031-03-02' },
    surprise: 5.2,
    adjustedP: 0.0004,
    logRatio: { mean: Math.log(4.6), sd: 0.2 },
    shares: { anode: 0.06, boat: 0.84, berth: 0.06, pontoon: 0.04 },
    causes: [
      {
        cause: 'stray-current-onboard',
        probability: 0.81,
        evidence: [
          quoted('circuits-shift', 'The hull shifts by 0.29 V when the circuits are on', 3.1),
          quoted('neighbours', 'The neighbours waste as ever', 1.2),
          quoted('crust', 'No crust was seen', -0.4),
        ],
      },
      {
        cause: 'stray-current-shore',
        probability: 0.19,
        evidence: [quoted('neighbours', 'The neighbours waste as ever', -1.6)],
      },
    ],
    nextCheck: {
      check: 'unplug-shift',
      title: 'Read the hull with the shore lead in and out',
      how: ['Hang the reference electrode beside the hull.', 'Read it with the lead in, then out.'],
      expectedGain: 0.2,
      outcomes: [
        {
          outcome: 'shifts',
          text: 'It shifts by more than 0.05 V',
          probability: 0.25,
          would: [
            { cause: 'stray-current-shore', probability: 0.7 },
            { cause: 'stray-current-onboard', probability: 0.3 },
          ],
        },
        {
          outcome: 'steady',
          text: 'It stays as it is',
          probability: 0.75,
          would: [
            { cause: 'stray-current-onboard', probability: 0.97 },
            { cause: 'stray-current-shore', probability: 0.03 },
          ],
        },
      ],
      cautions: ['Pull the lead at the pedestal first.'],
    },
    questions: [],
    asked: [],
    safety: ['Alternating current leaking into the water paralyses swimmers. Nobody in the water near the boat.'],
    state: 'open',
    confirmedCause: null,
    notSeenSince: null,
    openedOn: '2031-04-18',
    reopened: 0,
    asOf: '2031-04-18',
    version: 1,
    ...part,
  }
}

export function detailOf(part: Partial<FindingDetail> = {}): FindingDetail {
  return {
    ...findingOf(part),
    checks: [],
    resolution: null,
    events: [
      {
        at: '2031-04-18T09:30:00.000Z',
        by: 'refit',
        kind: 'opened',
        from: null,
        to: 'open',
        note: null,
        check: null,
        resolution: null,
      },
    ],
    ...part,
  }
}
