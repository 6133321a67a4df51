import { DIAGNOSIS_CHECKS } from '../../reference/diagnosis-checks.js'
import type { Said } from '../../said.js'
import { OBSERVATIONS } from '../cause-network.js'
import type { AskedQuestion, RecordedCheck } from '../diagnosis.js'
import { contactEvidence } from './contact.js'
import { demandEvidence } from './demand.js'
import { densityEvidence } from './density-of-anode.js'
import { type Evidence, evidence } from './evidence.js'
import {
  bondEvidence,
  bondPotentialEvidence,
  bondQuestions,
  ownPotentialEvidence,
  waterFitEvidence,
} from './fitted-alloys.js'
import { lookEvidence } from './looks.js'
import { massFittedEvidence } from './mass-fitted.js'
import { mouldMassEvidence } from './mould-mass.js'
import { onsetEvidence, patternEvidence, sizeEvidence, surpriseEvidence } from './pattern.js'
import { circuitShiftEvidence, fittingEvidence, hullEvidence, shoreShiftEvidence } from './potentials.js'
import type { RecordQuestionCode } from './question-codes.js'
import { anodeQuestions, berthQuestions, readingQuestions } from './questions-of-boat.js'
import type { Scene } from './scene.js'
import { berthMatesEvidence, lastingEvidence, moveEvidence, neighboursEvidence, sistersEvidence } from './sharing.js'
import { contrastEvidence, hoursEvidence, isolatorEvidence } from './shore-power.js'
import { spentEvidence } from './spent.js'

const EXTRACTORS: readonly ((scene: Scene) => Evidence[])[] = [
  patternEvidence,
  onsetEvidence,
  sizeEvidence,
  surpriseEvidence,
  lastingEvidence,
  sistersEvidence,
  neighboursEvidence,
  berthMatesEvidence,
  moveEvidence,
  contrastEvidence,
  demandEvidence,
  massFittedEvidence,
  mouldMassEvidence,
  spentEvidence,
  waterFitEvidence,
  bondEvidence,
  lookEvidence,
  isolatorEvidence,
  hoursEvidence,
  contactEvidence,
  fittingEvidence,
  hullEvidence,
  shoreShiftEvidence,
  circuitShiftEvidence,
  densityEvidence,
  ownPotentialEvidence,
  bondPotentialEvidence,
]

/**
 * All evidence on a scene, at most one piece an observation, in the order of the tables. What somebody found on purpose, in a check,
 * goes before what the records say; of two checks of one kind the later counts.
 */
export function gatherEvidence(scene: Scene, checks: readonly RecordedCheck[]): Evidence[] {
  const found = new Map<string, Evidence>()
  for (const extract of EXTRACTORS)
    for (const each of extract(scene)) if (!found.has(each.observation)) found.set(each.observation, each)
  for (const each of checkEvidence(checks)) found.set(each.observation, each)
  return OBSERVATIONS.flatMap(({ key }) => found.get(key) ?? [])
}

/** Recorded checks as evidence; an outcome that the check doesn't have (not possible, not clear) counts nothing. */
function checkEvidence(checks: readonly RecordedCheck[]): Evidence[] {
  return [...checks]
    .sort((a, b) => a.on - b.on)
    .flatMap(({ check, outcome }) => {
      const row = DIAGNOSIS_CHECKS.find(({ key }) => key === check)
      if (row === undefined || !Object.hasOwn(row.outcomes, outcome)) return []
      return [evidence(row.observation, outcome, 'checked', { outcome: `${check}/${outcome}` })]
    })
}

/** What contradicts itself in the records of a scene, as questions; none of it counts as evidence. */
export function gatherQuestions({ boats, anodes, fleet }: Scene): AskedQuestion[] {
  const of = (boat: string | null, questions: readonly Said<RecordQuestionCode>[]) =>
    questions.map(({ code, values }): AskedQuestion => ({ boat, code, values }))
  const questions = [
    ...boats.flatMap(({ boat, facts }) => of(boat, readingQuestions(facts))),
    ...anodes.flatMap((anode) => of(anode.boat.boat, [...anodeQuestions(anode), ...bondQuestions(anode)])),
    ...boats.flatMap(({ facts }) => of(null, berthQuestions(facts, fleet.berths.values()))),
  ]
  const different = new Map(questions.map((each) => [JSON.stringify(each), each]))
  return [...different.values()]
}
