import { OutOfRange } from '../errors.js'
import { CAUSE_PRIORS, HIDDEN_CONDITIONS } from '../reference/cause-priors.js'
import type { Hidden, HiddenRow, Likelihood, ObservationRow } from '../reference/cause-tables.js'
import { SIGNS_IN_WEAR } from '../reference/signs-in-wear.js'
import { SIGNS_ON_BOARD } from '../reference/signs-on-board.js'
import { CAUSES } from './causes.js'

/** Every observation that may bear on a cause. */
export const OBSERVATIONS: readonly ObservationRow[] = [...SIGNS_IN_WEAR, ...SIGNS_ON_BOARD]

/** States of the observations made, by the observation's key; what is not in it was not observed and counts nothing. */
export type Observed = ReadonlyMap<string, string>

/** Rows of observations by key. */
export type ObservationRows = ReadonlyMap<string, ObservationRow>

const ROW_OF_OBSERVATION: ObservationRows = new Map(OBSERVATIONS.map((row) => [row.key, row]))
const PRIOR = CAUSES.map((cause) => CAUSE_PRIORS.find((row) => row.cause === cause)!.probability)

/** The row of one observation; `undefined` for a key that the tables don't have. */
export function observationRow(key: string): ObservationRow | undefined {
  return ROW_OF_OBSERVATION.get(key)
}

/**
 * Joint probability of what was observed with each cause, in the order of `CAUSES`:
 *
 *     P(c, o) = P(c) · Π P(o_i | c) · Π_h Σ_s P(s | c) · Π_{i under h} P(o_i | s)
 *
 * The first product runs over the observations that hang on the cause itself; the second over the hidden conditions h with states s:
 * observations under one h are independent only given its state, so they never weigh more together than the state itself.
 *
 * @param observed states by observation
 * @param rows what may be observed; the tables' own unless given
 * @returns P(c, o), each above 0; their sum is the probability of what was observed
 * @throws OutOfRange for a state that the observation doesn't have
 * @see reference `good-1950`
 */
export function jointProbabilities(observed: Observed, rows: ObservationRows = ROW_OF_OBSERVATION): readonly number[] {
  return likelihoodsOf(CAUSES, observed, rows).map((likelihood, c) => PRIOR[c]! * likelihood)
}

/** No cause has this name: every table has its `others` for it. */
const SOUND = 'sound'

/** Probability of what was observed where no cause is at work: that of a cause which leaves every observation alone. */
export function soundProbability(observed: Observed): number {
  return likelihoodsOf([SOUND], observed, ROW_OF_OBSERVATION)[0]!
}

function likelihoodsOf(causes: readonly string[], observed: Observed, rows: ObservationRows): number[] {
  const hidden = new Map<Hidden, [ObservationRow, number][]>()
  const likelihoods = causes.map(() => 1)
  const multiply = (by: (cause: string) => number) => {
    for (const [c, cause] of causes.entries()) likelihoods[c]! *= by(cause)
  }
  for (const [key, state] of observed) {
    const row = rows.get(key)
    if (row === undefined) throw new OutOfRange('observation', key, 'in the tables')
    const index = row.states.indexOf(state)
    if (index < 0) throw new OutOfRange(`state of ${key}`, state, `one of ${row.states.join(', ')}`)
    if (row.parent === 'cause') multiply((cause) => chance(row.likelihood, cause, index))
    else hidden.set(row.parent, [...(hidden.get(row.parent) ?? []), [row, index]])
  }
  for (const condition of HIDDEN_CONDITIONS) {
    const told = hidden.get(condition.key)
    if (told === undefined) continue
    multiply((cause) => throughHidden(condition, cause, told))
  }
  return likelihoods
}

/** Probabilities of the causes given what was observed, in the order of `CAUSES`; they add to 1. */
export function causeProbabilities(observed: Observed): readonly number[] {
  const joint = jointProbabilities(observed)
  const total = joint.reduce((sum, each) => sum + each, 0)
  return joint.map((each) => each / total)
}

/** Probability of each state of one observation, given what was observed, in the order of its states. */
export function stateProbabilities(row: ObservationRow, observed: Observed): readonly number[] {
  const before = sum(jointProbabilities(observed))
  return row.states.map((state) => sum(jointProbabilities(new Map([...observed, [row.key, state]]))) / before)
}

/** Entropy of a distribution [nat]. */
export function entropy(probabilities: readonly number[]): number {
  return -probabilities.reduce((total, p) => (p > 0 ? total + p * Math.log(p) : total), 0)
}

function throughHidden(condition: HiddenRow, cause: string, told: readonly [ObservationRow, number][]): number {
  return condition.states.reduce((total, state, s) => {
    const given = told.reduce((product, [row, index]) => product * chance(row.likelihood, state, index), 1)
    return total + chance(condition.likelihood, cause, s) * given
  }, 0)
}

/** Probability of a state under one parent. */
export function chance(likelihood: Likelihood, parent: string, state: number): number {
  return (likelihood.of?.[parent] ?? likelihood.others)[state]!
}

function sum(values: readonly number[]): number {
  return values.reduce((total, each) => total + each, 0)
}
