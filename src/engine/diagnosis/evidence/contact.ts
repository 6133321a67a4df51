import type { Said } from '../../said.js'
import type { BoatFacts, ContinuityReading } from '../fleet-facts.js'
import { type Evidence, evidence } from './evidence.js'
import { median } from './figures.js'
import { ask, type RecordQuestionCode } from './question-codes.js'
import type { RecordQuestion } from './record-question.js'
import { samePlace } from './same-place.js'
import { isWithin, nameOf, type Scene, type SceneAnode } from './scene.js'

/** Resistance of a good joint and of one that fails the old boat standard [Ω]. See `contact-resistance`. */
const GOOD_OHM = 0.3
const HIGH_OHM = 1
const BOND = 'bond'

/** Resistance from the scene's anodes to the bond, each by the middle of its readings; the worst where most are alike. */
export function contactEvidence(scene: Scene): Evidence[] {
  const found = scene.anodes.flatMap((anode) => {
    const ohms = soundContinuity(anode.boat.facts)
      .readings.filter(({ on }) => isWithin(scene, on))
      .filter((reading) => isOfAnode(reading, anode))
      .map((reading) => reading.ohms)
    return ohms.length === 0 ? [] : [{ name: nameOf(anode), ohms: median(ohms) }]
  })
  if (found.length === 0) return []
  const worst = found.reduce((most, each) => (each.ohms > most.ohms ? each : most))
  const middle = median(found.map(({ ohms }) => ohms))
  const ohms = scene.anomaly.scope === 'anode' ? worst.ohms : middle
  const state = ohms <= GOOD_OHM ? 'good' : ohms <= HIGH_OHM ? 'doubtful' : 'high'
  if (found.length > 1) return [evidence('contact-resistance', state, 'contacts', { ohms, anodes: found.length })]
  return [evidence('contact-resistance', state, 'contact', { ohms, anode: worst.name })]
}

/** A boat's continuity readings between things that are on record, and what to ask about the others. */
export function soundContinuity(facts: Pick<BoatFacts, 'continuity' | 'fittings' | 'anodes'>): {
  readonly readings: readonly ContinuityReading[]
  readonly questions: readonly RecordQuestion[]
} {
  const known = new Set([
    BOND,
    ...facts.fittings.map(({ fitting }) => plain(fitting)),
    ...facts.anodes.map(({ anode }) => plain(anode)),
  ])
  const readings: ContinuityReading[] = []
  const questions: RecordQuestion[] = []
  for (const reading of facts.continuity) {
    const question = doubtOf(reading, known)
    const about = `${reading.from} to ${reading.to}`
    if (question === null) readings.push(reading)
    else questions.push({ kind: 'continuity', about, on: reading.on, ...question })
  }
  return { readings, questions }
}

function doubtOf(reading: ContinuityReading, known: ReadonlySet<string>): Said<RecordQuestionCode> | null {
  const { from, to, ohms } = reading
  if (!(ohms >= 0 && ohms < Infinity)) return ask('continuity/cannot-be', { ohms: String(ohms), from, to })
  const unknown = [from, to].find((name) => !known.has(plain(name)))
  if (unknown !== undefined) return ask('continuity/on-no-list', { ohms, part: unknown })
  return plain(from) === plain(to) ? ask('continuity/itself', { part: from }) : null
}

function isOfAnode({ from, to }: ContinuityReading, anode: SceneAnode): boolean {
  const name = plain(nameOf(anode))
  if (plain(from) === name || plain(to) === name) return true
  const other = plain(from) === BOND ? to : plain(to) === BOND ? from : null
  return other !== null && anode.history !== null && samePlace(anode.history, other)
}

function plain(name: string): string {
  return name.trim().toLowerCase()
}
