import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  causeProbabilities,
  entropy,
  jointProbabilities,
  OBSERVATIONS,
  soundProbability,
  stateProbabilities,
} from '../../../src/engine/diagnosis/cause-network.js'
import { CAUSES } from '../../../src/engine/diagnosis/causes.js'
import { expectedGain } from '../../../src/engine/diagnosis/checks/next-check.js'
import { rankCauses } from '../../../src/engine/diagnosis/weigh-evidence.js'
import { OutOfRange } from '../../../src/engine/errors.js'
import { CAUSE_PRIORS, HIDDEN_CONDITIONS } from '../../../src/engine/reference/cause-priors.js'
import type { HiddenRow, Likelihood, ObservationRow } from '../../../src/engine/reference/cause-tables.js'
import { DIAGNOSIS_CHECKS } from '../../../src/engine/reference/diagnosis-checks.js'
import { SIGNS_AND_SAFETY } from '../../../src/engine/reference/signs-and-safety.js'

const sum = (values: readonly number[]) => values.reduce((total, each) => total + each, 0)

/** Some observations with a state each, none twice. */
const someObserved = fc.uniqueArray(fc.nat(OBSERVATIONS.length - 1), { maxLength: 10 }).chain((picked) =>
  fc.tuple(
    ...picked.map((index) =>
      fc.nat(OBSERVATIONS[index]!.states.length - 1).map((state): [string, string] => {
        const row = OBSERVATIONS[index]!
        return [row.key, row.states[state]!]
      }),
    ),
  ),
)

describe('the tables of causes', () => {
  const lines = (likelihood: Likelihood) => [likelihood.others, ...Object.values(likelihood.of ?? {})]
  const tables: readonly (ObservationRow | HiddenRow)[] = [...OBSERVATIONS, ...HIDDEN_CONDITIONS]

  it('hold distributions: every line adds to 1, nothing is ruled out', () => {
    expect(sum(CAUSE_PRIORS.map(({ probability }) => probability))).toBeCloseTo(1, 12)
    for (const row of tables)
      for (const line of lines(row.likelihood)) {
        expect(line, row.key).toHaveLength(row.states.length)
        expect(sum(line!), row.key).toBeCloseTo(1, 9)
        expect(Math.min(...line!), row.key).toBeGreaterThan(0)
      }
  })

  it('name causes, hidden states, observations and cautions that there are', () => {
    expect(CAUSE_PRIORS.map(({ cause }) => cause)).toEqual(CAUSES)
    const statesOf = new Map<string, readonly string[]>(HIDDEN_CONDITIONS.map(({ key, states }) => [key, states]))
    for (const row of HIDDEN_CONDITIONS)
      for (const parent of Object.keys(row.likelihood.of ?? {})) expect(CAUSES).toContain(parent)
    for (const row of OBSERVATIONS)
      for (const parent of Object.keys(row.likelihood.of ?? {}))
        expect(row.parent === 'cause' ? CAUSES : statesOf.get(row.parent), row.key).toContain(parent)
    for (const check of DIAGNOSIS_CHECKS) {
      const row = OBSERVATIONS.find(({ key }) => key === check.observation)
      expect(Object.keys(check.outcomes).sort(), check.key).toEqual([...(row?.states ?? [])].sort())
      for (const caution of check.cautions) expect(SIGNS_AND_SAFETY.map(({ key }) => key)).toContain(caution)
    }
  })

  it('have keys of their own', () => {
    for (const rows of [OBSERVATIONS, DIAGNOSIS_CHECKS, HIDDEN_CONDITIONS])
      expect(new Set(rows.map(({ key }) => key)).size).toBe(rows.length)
  })
})

describe('causeProbabilities', () => {
  it('adds to 1 and does not depend on the order of the observations', () => {
    fc.assert(
      fc.property(someObserved, (observed) => {
        const forwards = causeProbabilities(new Map(observed))
        const backwards = causeProbabilities(new Map([...observed].reverse()))
        expect(sum(forwards)).toBeCloseTo(1, 12)
        forwards.forEach((p, c) => {
          expect(backwards[c]).toBeCloseTo(p, 12)
        })
      }),
    )
  })

  it('equals Bayes’ rule summed by brute force over every state of every hidden condition', () => {
    fc.assert(
      fc.property(someObserved, (observed) => {
        const brute = CAUSES.map((cause, c) => CAUSE_PRIORS[c]!.probability * sumOverHidden(cause, observed))
        const joint = jointProbabilities(new Map(observed))
        joint.forEach((p, c) => {
          expect(p / brute[c]!).toBeCloseTo(1, 9)
        })
      }),
      { numRuns: 50 },
    )
  })

  it('stays as it was when what is observed is as likely under every cause, or tells nothing of its hidden condition', () => {
    const flat = (key: string, parent: ObservationRow['parent']): ObservationRow => ({
      key,
      parent,
      states: ['yes', 'no'],
      likelihood: { others: [0.3, 0.7] },
      status: 'definition',
      sources: ['this-project'],
      note: '',
    })
    const more = [flat('flat', 'cause'), flat('flat joint', 'joint')]
    const rows = new Map([...OBSERVATIONS, ...more].map((row) => [row.key, row]))
    fc.assert(
      fc.property(someObserved, (observed) => {
        const without = jointProbabilities(new Map(observed), rows)
        const added = jointProbabilities(new Map([...observed, ['flat', 'yes'], ['flat joint', 'no']]), rows)
        added.forEach((p, c) => {
          expect(p / without[c]!).toBeCloseTo(0.3 * 0.7, 9)
        })
      }),
    )
  })

  it('lets observations of one hidden condition never weigh more than the condition itself', () => {
    const all = new Map([
      ['joint-look', 'loose'],
      ['contact-resistance', 'high'],
      ['fitting-potential', 'free'],
    ])
    const [open] = HIDDEN_CONDITIONS[0].likelihood.of['no-electrical-contact']
    const [openOtherwise] = HIDDEN_CONDITIONS[0].likelihood.others
    const probabilities = causeProbabilities(all)
    const prior = CAUSE_PRIORS.map(({ probability }) => probability)
    const onboard = probabilities[4]! / probabilities[0]! / (prior[4]! / prior[0]!)
    expect(onboard).toBeLessThanOrEqual((open / openOtherwise) * (1 + 1e-9))
    expect(onboard).toBeGreaterThan(20)
  })

  it('refuses a state that the observation doesn’t have', () => {
    expect(() => causeProbabilities(new Map([['isolator', 'perhaps']]))).toThrow(OutOfRange)
    expect(() => causeProbabilities(new Map([['horoscope', 'good']]))).toThrow(OutOfRange)
  })
})

describe('rankCauses', () => {
  it('gives weights that add up from the prior’s log odds to the log odds at the end', () => {
    fc.assert(
      fc.property(someObserved, (observed) => {
        const evidence = observed.map(([observation, state]) => ({
          observation,
          state,
          code: 'pattern/other' as const,
          values: {},
        }))
        for (const { cause, probability, evidence: weights } of rankCauses(evidence)) {
          const prior = CAUSE_PRIORS.find((row) => row.cause === cause)!.probability
          const odds = Math.log(prior / (1 - prior)) + sum(weights.map(({ weight }) => weight))
          expect(1 / (1 + Math.exp(-odds))).toBeCloseTo(probability, 8)
        }
      }),
    )
  })
})

describe('expectedGain', () => {
  it('is never negative, and is the drop in entropy averaged over the outcomes', () => {
    fc.assert(
      fc.property(someObserved, fc.nat(OBSERVATIONS.length - 1), (observed, index) => {
        const row = OBSERVATIONS[index]!
        const before = new Map(observed.filter(([key]) => key !== row.key))
        // H(C) + H(O) − H(C, O): the mutual information the other way round.
        const total = sum(jointProbabilities(before))
        const cells = row.states.flatMap((state) =>
          jointProbabilities(new Map([...before, [row.key, state]])).map((p) => p / total),
        )
        const information =
          entropy(causeProbabilities(before)) + entropy(stateProbabilities(row, before)) - entropy(cells)
        expect(expectedGain(row.key, before)).toBeGreaterThanOrEqual(0)
        expect(expectedGain(row.key, before)).toBeCloseTo(information, 8)
      }),
    )
  })
})

/** P(observed | cause), every combination of hidden states one by one. */
function sumOverHidden(cause: string, observed: readonly [string, string][]): number {
  const line = ({ others, of }: Likelihood, parent: string) => of?.[parent] ?? others
  const combinations = HIDDEN_CONDITIONS.reduce<{ states: Record<string, string>; p: number }[]>(
    (list, condition) =>
      list.flatMap(({ states, p }) =>
        condition.states.map((state, s) => ({
          states: { ...states, [condition.key]: state },
          p: p * line(condition.likelihood, cause)[s]!,
        })),
      ),
    [{ states: {}, p: 1 }],
  )
  return sum(
    combinations.map(({ states, p }) =>
      observed.reduce((product, [key, state]) => {
        const row = OBSERVATIONS.find((each) => each.key === key)!
        const parent = row.parent === 'cause' ? cause : states[row.parent]!
        return product * line(row.likelihood, parent)[row.states.indexOf(state)]!
      }, p),
    ),
  )
}

describe('soundProbability', () => {
  it('adds to 1 over the states of each observation, and is below it for what was observed', () => {
    for (const { key, states } of OBSERVATIONS)
      expect(sum(states.map((state) => soundProbability(new Map([[key, state]]))))).toBeCloseTo(1, 12)
    fc.assert(
      fc.property(someObserved, (observed) => {
        const probability = soundProbability(new Map(observed))
        expect(probability).toBeGreaterThan(0)
        expect(probability).toBeLessThanOrEqual(1 + 1e-12)
      }),
    )
  })
})
