import type { GalvanicAuditView } from '../../../contract/galvanic.js'
import { isMetal } from '../../../contract/metals.js'
import type { Alloy, Water } from '../../../contract/vocabulary.js'
import { galvanicMetal } from '../../../engine/reference/galvanic-series.js'
import { count } from '../../wording/days.js'

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

export const GRADE_WORDS: Readonly<Record<Grade, Judgement>> = {
  compatible: { word: 'Compatible', sign: '✓', tone: 'fine' },
  fair: { word: 'Fair', sign: '△', tone: 'open' },
  poor: { word: 'Poor', sign: '▲', tone: 'mind' },
  severe: { word: 'Severe', sign: '▲▲', tone: 'stop' },
  unknown: { word: 'Not known', sign: '?', tone: 'open' },
}

export const PROTECTION_WORDS: Readonly<Record<Verdict, Judgement>> = {
  protects: { word: 'Protects', sign: '✓', tone: 'fine' },
  barely: { word: 'In doubt', sign: '▲', tone: 'mind' },
  cannot: { word: 'Cannot protect', sign: '▲▲', tone: 'stop' },
  unsuited: { word: 'Wrong alloy', sign: '▲▲', tone: 'stop' },
  unknown: { word: 'Not known', sign: '?', tone: 'open' },
}

export const LIMIT_WORDS: Readonly<Record<LimitVerdict, Judgement>> = {
  within: { word: 'Within the limit', sign: '✓', tone: 'fine' },
  possible: { word: 'Can go too far', sign: '▲', tone: 'mind' },
  forbidden: { word: 'Take it off', sign: '▲▲', tone: 'stop' },
}

export const READING_WORDS: Readonly<Record<ReadingVerdict, Judgement>> = {
  protected: { word: 'Protected', sign: '✓', tone: 'fine' },
  'under-protected': { word: 'Too little', sign: '▲', tone: 'mind' },
  'over-protected': { word: 'Too much', sign: '▲▲', tone: 'stop' },
  'not-judged': { word: 'Not judged', sign: '?', tone: 'open' },
}

export const ALLOY_WORDS: Readonly<Record<Alloy, string>> = {
  zinc: 'Zinc',
  aluminium: 'Aluminium',
  magnesium: 'Magnesium',
}

export const WATER_WORDS: Readonly<Record<Water, string>> = { salt: 'Salt', brackish: 'Brackish', fresh: 'Fresh' }

/** A metal by its name in the series; one that a newer service knows is said by its key. */
export function metalName(key: string): string {
  return isMetal(key) ? galvanicMetal(key).name : key
}

/** A metal's name without what the series adds in brackets. @example shortName('manganese-bronze') // 'Manganese bronze' */
export function shortName(key: string): string {
  return metalName(key).replace(/ \(.*\)$/, '')
}

/** A metal's name within a sentence. */
export function metalWithin(key: string): string {
  return lowerFirst(metalName(key))
}

export function lowerFirst(name: string): string {
  return name.charAt(0).toLowerCase() + name.slice(1)
}

/** @example sayVolts(-0.3) // '−0.30' */
export function sayVolts(volts: number): string {
  return volts.toFixed(2).replace('-', '−')
}

/** @example sayDelta({ low: 0.16, high: 0.34 }) // '0.16–0.34 V' */
export function sayDelta({ low, high }: { low: number; high: number }): string {
  return `${low.toFixed(2)}–${high.toFixed(2)} V`
}

export function sayArea(areaCm2: number | null): string {
  return areaCm2 === null ? 'area not known' : `${Number(areaCm2.toPrecision(3)).toLocaleString('en-GB')} cm²`
}

/** Cathode over anode, the smaller of the two as 1. @example sayAreaRatio(0.05) // '1 : 20' */
export function sayAreaRatio(ratio: number | null): string {
  if (ratio === null) return 'not known'
  const figure = (value: number) => Number(value.toPrecision(2)).toLocaleString('en-GB')
  return ratio >= 1 ? `${figure(ratio)} : 1` : `1 : ${figure(1 / ratio)}`
}

/** @example sayList(['shaft', 'strut', 'rudder']) // 'shaft, strut and rudder' */
export function sayList(names: readonly string[]): string {
  if (names.length < 2) return names.join('')
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`
}

/** What the audit comes to, in one or two sentences: the anodes first, then the pairs. */
export function sayAudit({ protection, pairs, metals }: GalvanicAuditView): string {
  if (metals.length === 0) return 'No metal is on record for this boat, so there is nothing to judge yet.'
  const fitted = protection.filter(({ isFitted }) => isFitted).map(sayFitted)
  const anodes = fitted.length === 0 ? 'No anode of a known alloy is joined to the metal.' : fitted.join(' ')
  return `${anodes} ${sayPairs(pairs)}`
}

const ANODES_DO: Readonly<Record<Verdict, string>> = {
  protects: 'anodes can protect every metal joined to them.',
  barely: 'anodes may not be enough here: little in hand, or a water they do not like.',
  cannot: 'anodes cannot protect every metal joined to them.',
  unsuited: 'anodes do not suit this water.',
  unknown: 'anodes: too little is known to say what they protect.',
}

function sayFitted({ alloy, verdict }: GalvanicAuditView['protection'][number]): string {
  return `${ALLOY_WORDS[alloy]} ${ANODES_DO[verdict]}`
}

const ONE_PAIR = {
  open: 'cannot be graded yet',
  bad: 'would be poor or severe without anodes',
  good: 'is not poor, even without anodes',
} as const

function sayPairs(pairs: GalvanicAuditView['pairs']): string {
  const bad = pairs.filter(({ grade }) => grade === 'severe' || grade === 'poor').length
  const open = pairs.filter(({ grade }) => grade === 'unknown').length
  if (pairs.length === 0) return 'No two metals are known to be joined.'
  if (pairs.length === 1) return `The one pair of metals ${ONE_PAIR[open > 0 ? 'open' : bad > 0 ? 'bad' : 'good']}.`
  const rest = open === 0 ? '' : ` ${open} cannot be graded yet.`
  if (bad === 0) return `None of the ${pairs.length} pairs of metals is poor.${rest}`
  return `Without anodes ${bad} of the ${pairs.length} pairs of metals would be poor or severe.${rest}`
}

/** How many pairs there are of each grade, the gravest first. @example sayGrades(['fair', 'severe']) // '2 pairs: 1 severe, 1 fair.' */
export function sayGrades(grades: readonly Grade[]): string {
  const order: readonly Grade[] = ['severe', 'poor', 'unknown', 'fair', 'compatible']
  const counts = order.flatMap((grade) => {
    const number = grades.filter((each) => each === grade).length
    return number === 0 ? [] : [`${number} ${GRADE_WORDS[grade].word.toLowerCase()}`]
  })
  if (counts.length === 0) return 'Two metals with areas that can be read make a pair.'
  return `${count(grades.length, 'pair')}: ${counts.join(', ')}.`
}
