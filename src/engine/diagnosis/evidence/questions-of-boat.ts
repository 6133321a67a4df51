import type { BerthSurroundings, BoatFacts } from '../fleet-facts.js'
import { soundContinuity } from './contact.js'
import { densityQuestions } from './density-of-anode.js'
import type { BoatView } from './fleet-view.js'
import { lookQuestions } from './looks.js'
import type { RecordQuestion } from './record-question.js'
import type { SceneAnode } from './scene.js'
import { soundPotentials } from './sound-potentials.js'
import { contradiction } from './water-during.js'

/**
 * Everything on a boat's record that contradicts itself or the rest, whether or not its wear is abnormal: the same questions as a
 * diagnosis asks, of all its anodes, past ones too. Bonds that nobody recorded are the galvanic audit's to ask about.
 *
 * @param facts of the boat
 * @param observed its anodes as observed, for cores that nobody weighed; `null` where no masses are known
 * @param berths of the fleet; those at which the boat has lain are looked at
 * @returns the newest first, what has no day last; none twice
 */
export function questionsOfBoat(
  { facts, observed }: Pick<BoatView, 'facts' | 'observed'>,
  berths: readonly BerthSurroundings[],
): RecordQuestion[] {
  const boat: BoatView = { boat: facts.boat, facts, observed, intervals: [], castings: new Map() }
  const questions = [
    ...readingQuestions(facts),
    ...facts.anodes.flatMap((anode) => {
      const history = observed?.history.anodes.find(({ key }) => key === anode.key) ?? null
      return anodeQuestions({ key: anode.key, boat, history, facts: anode })
    }),
    ...berthQuestions(facts, berths),
  ]
  const different = new Map(questions.map((each) => [JSON.stringify(each), each]))
  return [...different.values()].sort((a, b) => (b.on ?? -Infinity) - (a.on ?? -Infinity) || 0)
}

/** About the boat's potentials and continuity. */
export function readingQuestions(facts: BoatFacts): RecordQuestion[] {
  return [...soundPotentials(facts).questions, ...soundContinuity(facts).questions]
}

/** About what was seen and weighed of an anode. */
export function anodeQuestions(anode: SceneAnode): RecordQuestion[] {
  return [...lookQuestions(anode), ...densityQuestions(anode)]
}

/** About the water of berths at which the boat has lain. */
export function berthQuestions(
  { stays }: Pick<BoatFacts, 'stays'>,
  berths: Iterable<BerthSurroundings>,
): RecordQuestion[] {
  const own = new Set(stays.map(({ berth }) => berth))
  return [...berths].flatMap((berth) => (own.has(berth.berth) ? (contradiction(berth) ?? []) : []))
}
