import { designAlloy } from '../../../engine/reference/anode-alloys.js'
import type { CurrentDemandKey } from '../../../engine/reference/current-demand.js'
import { type AnodeAlloy, WATERS } from '../../../engine/reference/vocabulary.js'
import type { Criterion } from '../../../engine/sizing/anode-count.js'
import type { ResistanceFormula } from '../../../engine/sizing/anode-resistance.js'
import type { Coating } from '../../../engine/sizing/protection-current.js'
import { count } from '../../wording/days.js'
import type { SizingAnswer } from './answer-of.js'

type Surfaces = readonly (readonly [surface: CurrentDemandKey, words: string])[]

/** Surfaces by kind, as the choice shows them: those of boats first. */
export const SURFACE_GROUPS: readonly (readonly [group: string, surfaces: Surfaces])[] = [
  [
    'Propellers, shafts, fittings',
    [
      ['bronze-propeller', 'Bronze propeller, turning or in a current'],
      ['nickel-aluminium-bronze-propeller', 'Nickel-aluminium bronze propeller'],
      ['bronze-fittings', 'Bronze or brass fittings at rest'],
      ['stainless-shaft', 'Stainless shaft or fittings at rest'],
    ],
  ],
  [
    'Hulls',
    [
      ['painted-steel-hull', 'Painted steel hull'],
      ['painted-steel-hull-well-coated', 'Painted steel hull, at rest, well coated'],
      ['painted-steel-hull-old-coating', 'Painted steel hull, at rest, old coating'],
      ['painted-aluminium-hull', 'Painted aluminium hull'],
      ['painted-aluminium-hull-well-coated', 'Painted aluminium hull, at rest, well coated'],
      ['aluminium', 'Bare aluminium'],
      ['ship-hull-first-class-paint', 'Ship’s hull, first-class paint'],
      ['ship-hull-old-paint', 'Ship’s hull, old paint'],
      ['ship-hull-surveyors', 'Ship’s hull, surveyors’ figure'],
    ],
  ],
  [
    'Bare steel to 30 m of water',
    [
      ['bare-steel-arctic', 'Bare steel, below 7 °C'],
      ['bare-steel-temperate', 'Bare steel, 7 to 11 °C'],
      ['bare-steel-subtropical', 'Bare steel, 12 to 20 °C'],
      ['bare-steel-tropical', 'Bare steel, above 20 °C'],
      ['bare-steel-at-rest', 'Bare steel, boat at rest (trade estimate)'],
      ['bare-steel-current-slow', 'Bare steel, current of 0.5 to 2 mph'],
      ['bare-steel-current-fast', 'Bare steel, current of 2 to 5 mph'],
    ],
  ],
  [
    'Harbour works and tanks',
    [
      ['bare-steel-harbour-water', 'Pier of bare steel, in water'],
      ['bare-steel-harbour-mud', 'Pier of bare steel, in mud'],
      ['coated-sheet-piling-harbour', 'Coated sheet piling'],
      ['ballast-tank-bare', 'Ballast tank, bare'],
      ['ballast-tank-coated', 'Ballast tank, coated'],
    ],
  ],
]

export const COATING_WORDS: Readonly<Record<Coating, string>> = {
  none: 'Bare metal',
  I: 'One thin coat (20 µm or more)',
  II: 'Coats of 250 µm or more',
  III: 'Two coats or more, 350 µm or more',
}

export const CRITERION_WORDS: Readonly<Record<Criterion, string>> = {
  mass: 'Mass',
  'initial-current': 'Current when new',
  'final-current': 'Current when used up',
}

const WHY: Readonly<Record<Criterion, string>> = {
  mass: 'mass decides: fewer would be used up sooner',
  'initial-current': 'the current when new decides: fewer would not polarise the metal',
  'final-current': 'the current when used up decides: fewer would fail towards the end',
}

const DECIDING: Readonly<Record<Criterion, string>> = {
  mass: 'its mass',
  'initial-current': 'its current when new',
  'final-current': 'its current when used up',
}

export const FORMULA_WORDS: Readonly<Record<ResistanceFormula, string>> = {
  slender: 'slender rod',
  'short-slender': 'short rod',
  'flush-plate': 'long plate on the metal',
  bracelet: 'by exposed area',
}

/** The answer in a sentence. */
export function sayAnswer({ sizing, years }: Extract<SizingAnswer, { kind: 'sized' }>): string {
  const { number, decidedBy } = sizing
  if (number === 1)
    return `For ${sayYears(years)} one anode of ${sayKg(sizing.totalMassKg)} is enough; of the criteria ${DECIDING[decidedBy]} decides.`
  return `For ${sayYears(years)}: ${count(number, 'anode')}, ${sayKg(sizing.totalMassKg)} in all; ${WHY[decidedBy]}.`
}

/** Which waters an alloy is for. @example saySuits('zinc') // 'for salt water; with limits in brackish; not for fresh.' */
export function saySuits(alloy: AnodeAlloy): string {
  const { suits } = designAlloy(alloy)
  const named = (how: string) => WATERS.filter((water) => suits[water] === how).join(' and ')
  const parts = [
    named('yes') && `for ${named('yes')} water`,
    named('limited') && `with limits in ${named('limited')}`,
    named('no') && `not for ${named('no')}`,
  ]
  return `${parts.filter(Boolean).join('; ')}.`
}

/** @example sayKg(0.4567) // '457 g' */
export function sayKg(kg: number): string {
  if (kg < 1) return `${Number((kg * 1000).toPrecision(3))} g`
  return `${Number(kg.toPrecision(3)).toLocaleString('en-GB')} kg`
}

/** @example sayAmperes(0.0173) // '17.3 mA' */
export function sayAmperes(amperes: number): string {
  if (amperes < 1) return `${Number((amperes * 1000).toPrecision(3))} mA`
  return `${Number(amperes.toPrecision(3)).toLocaleString('en-GB')} A`
}

/** @example sayOhm(0.70213) // '0.702 Ω' */
export function sayOhm(ohm: number): string {
  return `${Number(ohm.toPrecision(3)).toLocaleString('en-GB')} Ω`
}

/** @example sayYears(2.44) // '2.4 years' */
export function sayYears(years: number): string {
  const shown = Number(years >= 10 ? years.toPrecision(3) : years.toFixed(1))
  return `${shown.toLocaleString('en-GB')} ${shown === 1 ? 'year' : 'years'}`
}
