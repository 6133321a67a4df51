import { GALVANIC_AUDIT_FIGURES } from '../reference/galvanic-grades.js'
import { galvanicMetal } from '../reference/galvanic-series.js'
import type { BoatFitting, GalvanicBoat } from './boat-metals.js'
import { hasDoubtfulSign } from './judged-potentials.js'

export const QUESTION_KEYS = [
  'no-fittings',
  'water',
  'hull',
  'hull-area',
  'metal',
  'area',
  'bonded',
  'no-anodes',
  'alloy',
  'reference',
  'sign',
] as const
export type QuestionKey = (typeof QUESTION_KEYS)[number]

/** Something that the record lacks, or that cannot be as it stands, and that the audit would need. */
export interface AuditQuestion {
  readonly key: QuestionKey
  /** The fitting or anode it is about; `null`: the boat. */
  readonly about: string | null
  readonly question: string
}

/** What to ask whoever looks after the boat, the boat's own gaps first, then fitting by fitting. */
export function questionsOf(boat: GalvanicBoat): readonly AuditQuestion[] {
  return [
    ...boatQuestions(boat),
    ...boat.fittings.flatMap(fittingQuestions),
    ...boat.anodes
      .filter(({ alloy }) => alloy === null)
      .map(({ anode }) => about('alloy', anode, `Which alloy is the anode ${anode} of?`)),
    ...readingQuestions(boat),
  ]
}

function boatQuestions({ hull, water, fittings, anodes }: GalvanicBoat): AuditQuestion[] {
  const asked: AuditQuestion[] = []
  const ask = (key: QuestionKey, question: string) => asked.push(about(key, null, question))
  if (fittings.length === 0) ask('no-fittings', 'Which metal has the boat under water? No fitting is recorded.')
  if (water === null) ask('water', 'Where does the boat lie? The water of its berth is not known.')
  if (hull === null) ask('hull', 'What is the hull made of? Limits of overprotection depend on it.')
  if ((hull === 'steel' || hull === 'aluminium') && !hasHullMetal(hull, fittings)) {
    ask(
      'hull-area',
      `How large is the wetted hull? The ${hull} hull is not among the fittings, so its pairs are missing.`,
    )
  }
  if (anodes.length === 0) ask('no-anodes', 'Has the boat anodes? None is recorded as in place.')
  return asked
}

function hasHullMetal(hull: 'steel' | 'aluminium', fittings: readonly BoatFitting[]): boolean {
  const group = hull === 'steel' ? 'iron' : 'aluminium'
  return fittings.some(({ metal }) => metal !== null && galvanicMetal(metal).group === group)
}

function fittingQuestions({ fitting, metal, areaCm2, bonded }: BoatFitting): AuditQuestion[] {
  const asked: AuditQuestion[] = []
  if (metal === null) asked.push(about('metal', fitting, `Which metal is ${fitting}? It is in no pair yet.`))
  if (areaCm2 === null || areaCm2 < GALVANIC_AUDIT_FIGURES.leastArea.value)
    asked.push(about('area', fitting, `How large is ${fitting} under water, in cm²?`))
  if (bonded === null) asked.push(about('bonded', fitting, `Is ${fitting} bonded? Measure from it to the bond.`))
  return asked
}

function readingQuestions({ potentials }: GalvanicBoat): AuditQuestion[] {
  const ofReading = (key: QuestionKey, fitting: string | null, at: string, what: string) =>
    about(key, fitting, `${what} in the reading of ${fitting ?? 'the bonded hull'} at ${at}?`)
  return potentials.flatMap((reading) => {
    const { at, fitting, reference } = reading
    if (reference === null) return [ofReading('reference', fitting, at, 'Which reference electrode was used')]
    return hasDoubtfulSign(reading) ? [ofReading('sign', fitting, at, 'Was the minus sign dropped')] : []
  })
}

function about(key: QuestionKey, subject: string | null, question: string): AuditQuestion {
  return { key, about: subject, question }
}
