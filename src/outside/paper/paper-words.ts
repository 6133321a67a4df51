import type { FindingItem } from '../../contract/findings.js'
import type { Condition, ConfirmableCause, Hull, WeighingMethod } from '../../contract/vocabulary.js'
import { daysBetween, instantOf } from '../../presentation/calendar.js'

const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' })
const MONTH = new Intl.DateTimeFormat('en-GB', { month: 'short', year: '2-digit', timeZone: 'UTC' })
const GRAMS_PER_KILOGRAM = 1000

/** @example sayDay('2031-10-02') // '2 Oct 2031' */
export function sayDay(day: string): string {
  return DAY.format(instantOf(day))
}

export function sayMonth(at: Date): string {
  return MONTH.format(at)
}

export function saySpan(from: string | null, to: string | null): string {
  if (from === null) return 'over 30 years away'
  if (to === null) return `${sayDay(from)} or later`
  return daysBetween(from, to) === 0 ? sayDay(from) : `${sayDay(from)} – ${sayDay(to)}`
}

/** Grams below a kilogram, kilograms above. @example sayMass(1234) // '1.23 kg' */
export function sayMass(grams: number): string {
  if (Math.abs(grams) < GRAMS_PER_KILOGRAM) return `${Math.round(grams)} g`
  return `${(grams / GRAMS_PER_KILOGRAM).toFixed(2)} kg`
}

/** @example sayPercent(0.374) // '37 %' */
export function sayPercent(share: number): string {
  const percent = share * 100
  if (percent > 0 && percent < 1) return 'under 1 %'
  if (percent > 99 && percent < 100) return 'over 99 %'
  return `${Math.round(percent)} %`
}

export const HULL_WORDS: Readonly<Record<Hull, string>> = {
  grp: 'glass-fibre',
  wood: 'wood',
  steel: 'steel',
  aluminium: 'aluminium',
  ferrocement: 'ferrocement',
}

/** How a mass was found where no scale told it. */
export const METHOD_WORDS: Readonly<Record<WeighingMethod, string>> = {
  scale: '',
  dimensions: 'calipers',
  visual: 'by eye',
}

const CONDITION_WORDS: Readonly<Record<Condition, string>> = {
  even: 'even wear',
  bright: 'bright metal',
  'sharp-edged': 'sharp-edged',
  crusted: 'crusted',
  painted: 'painted over',
  loose: 'loose',
  broken: 'broken',
  missing: 'missing',
  undercut: 'undercut',
  pitted: 'metal pitted',
  pink: 'brass pink',
  scaled: 'scaled',
  'paint-blistered': 'paint blistered',
}

/** A code of a newer service is said as it is. */
export function sayConditions(codes: readonly string[]): string {
  const words: Readonly<Record<string, string>> = CONDITION_WORDS
  return codes.map((code) => words[code] ?? code).join(', ')
}

const CAUSE_WORDS: Readonly<Record<ConfirmableCause, string>> = {
  'stray-current-onboard': 'stray current from the boat itself',
  'stray-current-shore': 'stray current through the shore lead',
  'wrong-alloy-for-water': 'wrong alloy for this water',
  'alloy-not-as-declared': 'alloy not as declared',
  'no-electrical-contact': 'no electrical contact',
  passivated: 'passivated',
  'mixed-alloys': 'mixed alloys on one bond',
  undersized: 'too small for its task',
  'mechanical-loss': 'mass knocked off',
  'berth-environment': 'the water at the berth',
  other: 'another cause',
  none: 'nothing was wrong',
}

/** What a finding is about, in one line. @example 'shaft 2 wastes fast, since about 3 May 2031' */
export function sayFinding({ scope, anode, direction, onset, since }: FindingItem): string {
  const began = onset === null ? `from the first day on, ${sayDay(since)}` : `since about ${sayDay(onset.p50)}`
  if (direction === 'other') return `${anode ?? 'the boat'}: a reading or a look is out of order, ${began}`
  const isOne = scope === 'anode' && anode !== null
  const verb = direction === 'fast' ? 'waste fast' : 'hardly waste'
  const who = {
    anode: 'anodes',
    boat: 'the boat’s anodes',
    berth: 'anodes at the berth',
    pontoon: 'anodes at the pontoon',
  }
  if (!isOne) return `${who[scope]} ${verb} together, ${began}`
  return `${anode} ${direction === 'fast' ? 'wastes fast' : 'hardly wastes'}, ${began}`
}

/** The cause confirmed, else the likeliest with its probability. */
export function sayCause({ causes, confirmedCause }: FindingItem): string {
  if (confirmedCause !== null) return `Cause, confirmed: ${CAUSE_WORDS[confirmedCause]}.`
  const [first] = causes
  if (first === undefined) return 'No cause stands out.'
  return `Likeliest cause: ${CAUSE_WORDS[first.cause]} (${sayPercent(first.probability)}).`
}

const BASIS_WORDS = {
  anode: 'the anode’s own weighings',
  boat: 'the boat’s other anodes',
  fleet: 'the rest of the fleet',
  physics: 'what physics expects of such a boat',
} as const

/** Below this a share is not worth a word. */
const LEAST_SHARE = 0.005

/** On what a rate rests, the largest share first. */
export function sayBasis(basis: Readonly<Record<keyof typeof BASIS_WORDS, number>>): string {
  return (Object.keys(BASIS_WORDS) as (keyof typeof BASIS_WORDS)[])
    .filter((key) => basis[key] >= LEAST_SHARE)
    .toSorted((a, b) => basis[b] - basis[a])
    .map((key) => `${sayPercent(basis[key])} on ${BASIS_WORDS[key]}`)
    .join(', ')
}

/** A metal of the galvanic series as it is spoken. @example sayMetal('stainless-316-passive') // 'stainless 316 passive' */
export function sayMetal(key: string): string {
  return key.replaceAll('-', ' ')
}

/** @example capital('shaft') // 'Shaft' */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
