import type { CausePriorRow, HiddenRow } from './cause-tables.js'

const PRACTICE = { status: 'common practice', sources: ['boating-practice'] } as const

/** How often each cause lies behind abnormal wear, in the experience of yards: rough shares, none rare enough to rule out. */
export const CAUSE_PRIORS = [
  {
    cause: 'stray-current-onboard',
    probability: 0.12,
    ...PRACTICE,
    note: 'a bilge pump or a radio feed, a few of a hundred',
  },
  { cause: 'stray-current-shore', probability: 0.14, ...PRACTICE, note: 'boats without an isolator on shore power' },
  { cause: 'wrong-alloy-for-water', probability: 0.08, ...PRACTICE, note: 'salt-water zinc taken into a river' },
  { cause: 'alloy-not-as-declared', probability: 0.07, ...PRACTICE, note: 'unmarked or relabelled castings' },
  {
    cause: 'no-electrical-contact',
    probability: 0.15,
    ...PRACTICE,
    note: 'paint under the anode, a loose nut, a broken bond',
  },
  { cause: 'passivated', probability: 0.1, ...PRACTICE, note: 'brackish and fresh water' },
  { cause: 'mixed-alloys', probability: 0.09, ...PRACTICE, note: 'one anode renewed in another alloy' },
  { cause: 'undersized', probability: 0.09, ...PRACTICE, note: 'a new propeller or folding blades on old anodes' },
  { cause: 'mechanical-loss', probability: 0.08, ...PRACTICE, note: 'grounding, ropes, bolts that wasted first' },
  { cause: 'berth-environment', probability: 0.08, ...PRACTICE, note: 'a stream, warm outfall, river mouth' },
] as const satisfies readonly CausePriorRow[]

/** What several observations tell of together, under each cause. */
export const HIDDEN_CONDITIONS = [
  {
    key: 'joint',
    states: ['open', 'painted', 'sound'],
    likelihood: {
      others: [0.02, 0.01, 0.97],
      of: {
        'no-electrical-contact': [0.63, 0.33, 0.04],
        'mechanical-loss': [0.1, 0.01, 0.89],
        passivated: [0.01, 0.01, 0.98],
      },
    },
    ...PRACTICE,
    note: 'an anode does nothing when its joint to the metal is open or its face is painted; `never-paint`, `contact`',
  },
  {
    key: 'metal',
    states: ['as-declared', 'another'],
    likelihood: { others: [0.985, 0.015], of: { 'alloy-not-as-declared': [0.015, 0.985] } },
    ...PRACTICE,
    note: 'by definition of the cause, less a slip of the pen',
  },
  {
    key: 'leak',
    states: ['leaks', 'none'],
    likelihood: { others: [0.03, 0.97], of: { 'stray-current-onboard': [0.97, 0.03] } },
    ...PRACTICE,
    note: 'by definition of the cause; small leaks without consequence are met elsewhere',
  },
  {
    key: 'shore-loop',
    states: ['flows', 'none'],
    likelihood: {
      others: [0.06, 0.94],
      of: { 'stray-current-shore': [0.97, 0.03], 'berth-environment': [0.1, 0.9] },
    },
    ...PRACTICE,
    note: 'by definition of the cause; some current flows in many shore earths; `shore-link`',
  },
  {
    key: 'place',
    states: ['shared', 'own'],
    likelihood: {
      others: [0.08, 0.92],
      of: {
        'stray-current-shore': [0.5, 0.5],
        'wrong-alloy-for-water': [0.15, 0.85],
        passivated: [0.25, 0.75],
        'berth-environment': [0.96, 0.04],
      },
    },
    ...PRACTICE,
    note: 'whether other boats of the place have it too; `shore-link`: plugged-in boats share one earth',
  },
] as const satisfies readonly HiddenRow[]
