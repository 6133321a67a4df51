import type { GalvanicAuditView } from '../../../contract/galvanic.js'
import { isMetal } from '../../../contract/metals.js'
import english from '../../../messages/en/galvanic.json' with { type: 'json' }
import { currentLocale, sayNumber } from '../../wording/locale.js'
import { galvanicWord as t } from '../../wording/reasons.js'
import { isOf } from '../../wording/things.js'

export { t }

export type Grade = GalvanicAuditView['pairs'][number]['grade']
type Verdict = GalvanicAuditView['protection'][number]['verdict']
type LimitVerdict = GalvanicAuditView['overprotection'][number]['verdict']
type ReadingVerdict = GalvanicAuditView['potentials'][number]['verdict']

/** A word with a sign of its own, so that colour is never alone. */
export interface Judgement {
  readonly word: string
  readonly sign: string
  readonly tone: 'fine' | 'mind' | 'stop' | 'open'
}
type Sign = Omit<Judgement, 'word'>

const FINE = { sign: '✓', tone: 'fine' } as const
const MIND = { sign: '▲', tone: 'mind' } as const
const STOP = { sign: '▲▲', tone: 'stop' } as const
const OPEN = { sign: '?', tone: 'open' } as const

const GRADE_SIGNS: Readonly<Record<Grade, Sign>> = {
  compatible: FINE,
  fair: { sign: '△', tone: 'open' },
  poor: MIND,
  severe: STOP,
  unknown: OPEN,
}
const PROTECTION_SIGNS: Readonly<Record<Verdict, Sign>> = {
  protects: FINE,
  barely: MIND,
  cannot: STOP,
  unsuited: STOP,
  unknown: OPEN,
}
const LIMIT_SIGNS: Readonly<Record<LimitVerdict, Sign>> = { within: FINE, possible: MIND, forbidden: STOP }
const READING_SIGNS: Readonly<Record<ReadingVerdict, Sign>> = {
  protected: FINE,
  'under-protected': MIND,
  'over-protected': STOP,
  'not-judged': OPEN,
}

export const judgeGrade = (grade: Grade): Judgement => ({ word: t(`grade.${grade}`), ...GRADE_SIGNS[grade] })
export const judgeProtection = (verdict: Verdict): Judgement => ({
  word: t(`protects.${verdict}`),
  ...PROTECTION_SIGNS[verdict],
})
export const judgeLimit = (verdict: LimitVerdict): Judgement => ({
  word: t(`limit.${verdict}`),
  ...LIMIT_SIGNS[verdict],
})
export const judgeReading = (verdict: ReadingVerdict): Judgement => ({
  word: t(`read.${verdict}`),
  ...READING_SIGNS[verdict],
})

/** A metal by its name in the series; one that a newer service knows is said by its key. */
export function metalName(key: string): string {
  return isMetal(key) ? t(`metal.${key}`) : key
}

/** A metal's name without what the series adds in brackets. @example shortName('manganese-bronze') // 'Manganese bronze' */
export function shortName(key: string): string {
  return metalName(key).replace(/ \(.*\)$/, '')
}

/** How far a criterion was looked up; a word of a newer service is said as it is. */
export function sayStatus(status: string): string {
  return isOf(english.status, status) ? t(`status.${status}`) : status
}

/** A caution by its key, else as the service said it. */
export function sayNote({ key, text }: { readonly key: string; readonly text: string }): string {
  return isOf(english.caution, key) ? t(`caution.${key}`) : text
}

/** A question of the audit; one that a newer service asks stands as the service said it. */
export function sayAuditQuestion({ code, values, question }: GalvanicAuditView['questions'][number]): string {
  return isOf(english.question, code) ? t(`question.${code}`, { ...values }) : question
}

/** @example sayVolts(-0.3) // '−0.30' */
export function sayVolts(volts: number): string {
  return sayNumber(volts, 2).replace('-', '−')
}

/** @example sayDelta({ low: 0.16, high: 0.34 }) // '0.16–0.34 V' */
export function sayDelta({ low, high }: { low: number; high: number }): string {
  return `${sayNumber(low, 2)}–${sayNumber(high, 2)} V`
}

export function sayArea(areaCm2: number | null): string {
  return areaCm2 === null ? t('areaNotKnown') : `${toDigits(areaCm2, 3)} cm²`
}

/** Cathode over anode, the smaller of the two as 1. @example sayAreaRatio(0.05) // '1 : 20' */
export function sayAreaRatio(ratio: number | null): string {
  if (ratio === null) return t('notKnown')
  return ratio >= 1 ? `${toDigits(ratio, 2)} : 1` : `1 : ${toDigits(1 / ratio, 2)}`
}

function toDigits(value: number, digits: number): string {
  return Number(value.toPrecision(digits)).toLocaleString(currentLocale())
}

/** @example sayList(['shaft', 'strut', 'rudder']) // 'shaft, strut and rudder' */
export function sayList(names: readonly string[]): string {
  return new Intl.ListFormat(currentLocale(), { type: 'conjunction' }).format(names)
}

/** What the audit comes to, in one or two sentences: the anodes first, then the pairs. */
export function sayAudit({ protection, pairs, metals }: GalvanicAuditView): string {
  if (metals.length === 0) return t('audit.noMetal')
  const fitted = protection.filter(({ isFitted }) => isFitted)
  const anodes = fitted.map(({ verdict, alloy }) => t(`audit.anodes.${verdict}`, { alloy }))
  return `${anodes.length === 0 ? t('audit.noAnode') : anodes.join(' ')} ${sayPairs(pairs)}`
}

function sayPairs(pairs: GalvanicAuditView['pairs']): string {
  const bad = pairs.filter(({ grade }) => grade === 'severe' || grade === 'poor').length
  const open = pairs.filter(({ grade }) => grade === 'unknown').length
  if (pairs.length === 0) return t('audit.noPair')
  if (pairs.length === 1) return t(`audit.one.${open > 0 ? 'open' : bad > 0 ? 'bad' : 'good'}`)
  const rest = open === 0 ? '' : ` ${t('audit.open', { count: open })}`
  const all = { pairs: pairs.length }
  return `${bad === 0 ? t('audit.noneBad', all) : t('audit.bad', { ...all, count: bad })}${rest}`
}

/** How many pairs there are of each grade, the gravest first. @example sayGrades(['fair', 'severe']) // '2 pairs: 1 severe, 1 fair.' */
export function sayGrades(grades: readonly Grade[]): string {
  const order: readonly Grade[] = ['severe', 'poor', 'unknown', 'fair', 'compatible']
  const counts = order.flatMap((grade) => {
    const number = grades.filter((each) => each === grade).length
    return number === 0 ? [] : [t('grades.some', { number, grade })]
  })
  if (counts.length === 0) return t('grades.none')
  return t('grades.pairs', { count: grades.length, grades: counts.join(', ') })
}
