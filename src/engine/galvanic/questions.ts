import { GALVANIC_AUDIT_FIGURES } from '../reference/galvanic-grades.js'
import { galvanicMetal } from '../reference/galvanic-series.js'
import type { Said, ValuesOf } from '../said.js'
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

/**
 * What may be asked, with the values that stand in the question. A `fitting` of '' is the bonded hull; `at` is when it was read, an
 * instant.
 */
export const AUDIT_QUESTION_CODES = {
  'no-fittings': [],
  water: [],
  hull: [],
  'hull-area/steel': [],
  'hull-area/aluminium': [],
  'no-anodes': [],
  metal: ['fitting'],
  area: ['fitting'],
  bonded: ['fitting'],
  alloy: ['anode'],
  reference: ['fitting', 'at'],
  sign: ['fitting', 'at'],
} as const
type AuditQuestionCode = keyof typeof AUDIT_QUESTION_CODES

/** Something that the record lacks, or that cannot be as it stands, and that the audit would need. */
export interface AuditQuestion extends Said<AuditQuestionCode> {
  readonly key: QuestionKey
  /** The fitting or anode it is about; `null`: the boat. */
  readonly about: string | null
}

/** What to ask whoever looks after the boat, the boat's own gaps first, then fitting by fitting. */
export function questionsOf(boat: GalvanicBoat): readonly AuditQuestion[] {
  return [
    ...boatQuestions(boat),
    ...boat.fittings.flatMap(fittingQuestions),
    ...boat.anodes.filter(({ alloy }) => alloy === null).map(({ anode }) => about('alloy', anode, 'alloy', { anode })),
    ...readingQuestions(boat),
  ]
}

function boatQuestions({ hull, water, fittings, anodes }: GalvanicBoat): AuditQuestion[] {
  const lacksHull = (hull === 'steel' || hull === 'aluminium') && !hasHullMetal(hull, fittings)
  return [
    ...(fittings.length === 0 ? [about('no-fittings', null, 'no-fittings', {})] : []),
    ...(water === null ? [about('water', null, 'water', {})] : []),
    ...(hull === null ? [about('hull', null, 'hull', {})] : []),
    ...(lacksHull ? [about('hull-area', null, `hull-area/${hull}`, {})] : []),
    ...(anodes.length === 0 ? [about('no-anodes', null, 'no-anodes', {})] : []),
  ]
}

function hasHullMetal(hull: 'steel' | 'aluminium', fittings: readonly BoatFitting[]): boolean {
  const group = hull === 'steel' ? 'iron' : 'aluminium'
  return fittings.some(({ metal }) => metal !== null && galvanicMetal(metal).group === group)
}

function fittingQuestions({ fitting, metal, areaCm2, bonded }: BoatFitting): AuditQuestion[] {
  const hasNoArea = areaCm2 === null || areaCm2 < GALVANIC_AUDIT_FIGURES.leastArea.value
  return [
    ...(metal === null ? [about('metal', fitting, 'metal', { fitting })] : []),
    ...(hasNoArea ? [about('area', fitting, 'area', { fitting })] : []),
    ...(bonded === null ? [about('bonded', fitting, 'bonded', { fitting })] : []),
  ]
}

function readingQuestions({ potentials }: GalvanicBoat): AuditQuestion[] {
  return potentials.flatMap((reading) => {
    const { at, fitting, reference } = reading
    const read = { fitting: fitting ?? '', at }
    if (reference === null) return [about('reference', fitting, 'reference', read)]
    return hasDoubtfulSign(reading) ? [about('sign', fitting, 'sign', read)] : []
  })
}

function about<Code extends AuditQuestionCode>(
  key: QuestionKey,
  subject: string | null,
  code: Code,
  values: ValuesOf<typeof AUDIT_QUESTION_CODES, Code>,
): AuditQuestion {
  return { key, about: subject, code, values }
}
