import { type CheckNeed, type CheckRow, DIAGNOSIS_CHECKS } from '../../reference/diagnosis-checks.js'
import { SIGNS_AND_SAFETY } from '../../reference/signs-and-safety.js'
import { causeProbabilities, entropy, type Observed, observationRow, stateProbabilities } from '../cause-network.js'
import { CAUSES } from '../causes.js'
import type { CheckOutcome, NextCheck, RecordedCheck } from '../diagnosis.js'
import type { Scene } from '../evidence/scene.js'

/** A check that would tell less than this isn't worth the way to the boat [nat]. Convention. */
const LEAST_GAIN = 0.01

/**
 * Expected drop in the entropy of the causes by one more observation:
 *
 *     H(C | o) − Σ_s P(s | o)·H(C | o, s)
 *
 * the mutual information of cause and observation, so never below 0.
 *
 * @param key an observation not made yet
 * @returns gain [nat]
 * @see reference `lindley-1956`
 */
export function expectedGain(key: string, observed: Observed): number {
  const row = observationRow(key)!
  const before = entropy(causeProbabilities(observed))
  const chances = stateProbabilities(row, observed)
  const after = row.states.reduce(
    (sum, state, s) => sum + chances[s]! * entropy(causeProbabilities(new Map([...observed, [key, state]]))),
    0,
  )
  return Math.max(0, before - after)
}

/** The check with the largest expected gain among those that can be made on the scene and have not been; `null` where none tells. */
export function chooseNextCheck(scene: Scene, observed: Observed, made: readonly RecordedCheck[]): NextCheck | null {
  const open = DIAGNOSIS_CHECKS.filter(
    ({ key, observation, needs }) =>
      !observed.has(observation) && !made.some(({ check }) => check === key) && POSSIBLE[needs](scene),
  )
  const rated = open.map((row) => ({ row, gain: expectedGain(row.observation, observed) }))
  const best = rated.reduce<(typeof rated)[number] | null>(
    (most, each) => (most === null || each.gain > most.gain ? each : most),
    null,
  )
  return best === null || best.gain < LEAST_GAIN ? null : describe(best.row, best.gain, observed)
}

/** Whether a check makes sense on a scene. */
const POSSIBLE: Readonly<Record<CheckNeed, (scene: Scene) => boolean>> = {
  'shore-power': (scene) => mayHaveShorePower(scene),
  'own-circuits': () => true,
  anode: ({ anodes }) => anodes.length > 0,
  fitting: ({ anodes, boats }) => anodes.length > 0 && boats.some(({ facts }) => facts.fittings.length > 0),
  neighbours: ({ anomaly }) => anomaly.scope === 'anode' || anomaly.scope === 'boat',
  'fittings-and-anodes': ({ anomaly }) => anomaly.scope === 'anode' || anomaly.scope === 'boat',
  water: ({ boats, anomaly }) =>
    anomaly.berth !== null || boats.some(({ facts }) => facts.stays.some(({ berth }) => berth !== null)),
}

function mayHaveShorePower({ boats, fleet }: Scene): boolean {
  const berths = boats.flatMap(({ facts }) => facts.stays.flatMap(({ berth }) => (berth === null ? [] : [berth])))
  return berths.length === 0 || berths.some((berth) => fleet.berths.get(berth)?.hasShorePower !== false)
}

function describe(row: CheckRow, expectedGain: number, observed: Observed): NextCheck {
  const observation = observationRow(row.observation)!
  const chances = stateProbabilities(observation, observed)
  return {
    check: row.key,
    title: row.title,
    how: row.how,
    expectedGain,
    outcomes: observation.states.map((state, s): CheckOutcome => {
      const after = causeProbabilities(new Map([...observed, [row.observation, state]]))
      return {
        outcome: state,
        text: row.outcomes[state]!,
        probability: chances[s]!,
        would: CAUSES.map((cause, c) => ({ cause, probability: after[c]! })).sort(
          (a, b) => b.probability - a.probability,
        ),
      }
    }),
    cautions: row.cautions.map((key) => SIGNS_AND_SAFETY.find((rule) => rule.key === key)!.text),
  }
}
