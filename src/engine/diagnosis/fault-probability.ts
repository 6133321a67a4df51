import { HIDDEN_CONDITIONS } from '../reference/cause-priors.js'
import type { HiddenRow, ObservationRow } from '../reference/cause-tables.js'
import { type TellingReadingRow, USUAL_LOG_RATE_SD } from '../reference/telling-readings.js'
import { chance, type Observed, observationRow } from './cause-network.js'
import { mean } from './evidence/figures.js'
import type { ComparedInterval } from './evidence/fleet-view.js'
import type { Scene } from './evidence/scene.js'

/**
 * Probability that a fault which readings may show is there, rather than a slip of the probe or the pen:
 *
 *     odds = s/(1 − s) · P(readings | fault)/P(readings | sound) · N(r; m, √(t² + u²))/N(r; 0, u)
 *
 * with s the share that has it, r the log of the rate over the usual one of the boat, m and t what the fault does to it, u the spread of
 * usual rates. Without a rate the last factor is 1.
 *
 * @returns probability, 0 where none of its observations was made
 * @see reference `this-project`
 */
export function faultProbability(scene: Scene, row: TellingReadingRow, observed: Observed): number {
  const made = row.observations.flatMap((key): [ObservationRow, number][] => {
    const observation = observationRow(key)!
    const state = observed.get(key)
    return state === undefined ? [] : [[observation, observation.states.indexOf(state)]]
  })
  if (made.length === 0) return 0
  const condition = HIDDEN_CONDITIONS.find(({ key }) => key === row.key)
  const readings = condition === undefined ? causeRatio(row.key, made) : hiddenRatio(condition, row, made)
  const odds = (row.share / (1 - row.share)) * readings * rateRatio(scene, row)
  return odds / (1 + odds)
}

/** The faulty states of a hidden condition, each as likely as under the cause that it defines, against the sound one. */
function hiddenRatio(condition: HiddenRow, row: TellingReadingRow, made: readonly [ObservationRow, number][]): number {
  const given = (state: string) =>
    made.reduce((product, [of, index]) => product * chance(of.likelihood, state, index), 1)
  const soundAt = condition.states.indexOf(row.sound!)
  const defining = Object.values(condition.likelihood.of ?? {}).reduce((least, line) =>
    line![soundAt]! < least![soundAt]! ? line : least,
  )!
  const faulty = condition.states.filter((state) => state !== row.sound)
  const weights = faulty.map((state) => defining[condition.states.indexOf(state)]!)
  const total = weights.reduce((sum, each) => sum + each, 0)
  return faulty.reduce((sum, state, s) => sum + (weights[s]! / total) * given(state), 0) / given(row.sound!)
}

/** Observations under the cause against those under a cause that leaves them alone. */
function causeRatio(cause: string, made: readonly [ObservationRow, number][]): number {
  return made.reduce(
    (ratio, [{ likelihood }, index]) => ratio * (chance(likelihood, cause, index) / likelihood.others[index]!),
    1,
  )
}

function rateRatio(scene: Scene, { logRate, reach }: TellingReadingRow): number {
  const rate = reach === 'anode' ? anodeLogRate(scene) : boatLogRate(scene)
  if (rate === null) return 1
  const spread = Math.hypot(logRate.sd, USUAL_LOG_RATE_SD)
  const faulty = Math.exp(-(((rate - logRate.mean) / spread) ** 2) / 2) / spread
  const usual = Math.exp(-((rate / USUAL_LOG_RATE_SD) ** 2) / 2) / USUAL_LOG_RATE_SD
  return faulty / usual
}

/** Mean log rate of an anode over the level of the others of the boat. */
function anodeLogRate({ anodes, boats }: Scene): number | null {
  const intervals = boats.flatMap((boat) => boat.intervals)
  const keys = new Set(anodes.map(({ key }) => key))
  const own = intervals.filter(({ anode }) => keys.has(anode))
  if (own.length === 0) return null
  const level = levelOf(intervals.filter(({ anode }) => !keys.has(anode)))
  return mean(own.map(({ excess }) => excess)) - level
}

function boatLogRate({ boats }: Scene): number | null {
  const intervals = boats.flatMap((boat) => boat.intervals)
  return intervals.length === 0 ? null : mean(intervals.map(({ excess }) => excess))
}

/** Mean excess, drawn towards nothing where few intervals tell it. */
function levelOf(intervals: readonly ComparedInterval[]): number {
  return intervals.reduce((sum, { excess }) => sum + excess, 0) / (intervals.length + 1)
}
