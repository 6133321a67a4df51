import type { ConfirmableCause, FINDING_DIRECTIONS, FindingEventKind, FindingState } from '../../contract/vocabulary.js'
import type { Scope } from '../../engine/diagnosis/anomaly.js'

/** A cause by its name, what it means, and the same to an owner who never held a meter. */
interface CauseWords {
  readonly name: string
  readonly meaning: string
  readonly plain: string
}

export const CAUSE_WORDS: Readonly<Record<ConfirmableCause, CauseWords>> = {
  'stray-current-onboard': {
    name: 'Stray current from the boat itself',
    meaning: 'Direct current leaks from the boat’s own circuits into the water and takes the anodes with it.',
    plain: 'Something on board leaks electric current into the water.',
  },
  'stray-current-shore': {
    name: 'Stray current through the shore lead',
    meaning:
      'Current flows through the earth of the shore lead, from a neighbour or a fault ashore, while it is plugged in.',
    plain: 'Electric current passes through the shore lead while it is plugged in.',
  },
  'wrong-alloy-for-water': {
    name: 'Wrong alloy for this water',
    meaning: 'Zinc crusts over in fresh water and stops; magnesium is gone in weeks in salt water.',
    plain: 'The anode is of a metal that does not suit the water here.',
  },
  'alloy-not-as-declared': {
    name: 'Alloy not as declared',
    meaning: 'The anode is cast from another alloy than the one it was sold as.',
    plain: 'The anode is not of the metal it was sold as.',
  },
  'no-electrical-contact': {
    name: 'No electrical contact',
    meaning: 'Paint, a loose bolt or a broken bond cuts the anode off from the metal it should protect.',
    plain: 'The anode has lost its contact with the boat, so it protects nothing.',
  },
  passivated: {
    name: 'Passivated',
    meaning: 'A hard crust covers the anode: it has contact, but hardly gives current.',
    plain: 'A hard crust covers the anode, so it hardly protects.',
  },
  'mixed-alloys': {
    name: 'Mixed alloys on one bond',
    meaning: 'Anodes of different alloys are bonded together: the more active ones waste for all.',
    plain: 'Anodes of different metals are mixed: some waste for all the others.',
  },
  undersized: {
    name: 'Too small for its task',
    meaning: 'It wastes as the metal it protects demands: there is too little of it for the time between haul-outs.',
    plain: 'The anode is too small for what it has to protect.',
  },
  'mechanical-loss': {
    name: 'Mass knocked off',
    meaning: 'Metal broke off or was lost at once. It did not waste.',
    plain: 'A piece of the anode broke off.',
  },
  'berth-environment': {
    name: 'The water at the berth',
    meaning: 'All boats of the berth differ alike, shore power or not: salinity, flow or temperature.',
    plain: 'The water at this berth makes anodes waste differently.',
  },
  other: {
    name: 'Another cause',
    meaning: 'A cause that is not in the list.',
    plain: 'It was something else.',
  },
  none: {
    name: 'Nothing was wrong',
    meaning: 'Looked into, and found in order.',
    plain: 'It was looked into and found in order.',
  },
}

/** A cause by name; one that a newer service knows is said as it is. */
export function sayCause(cause: string): string {
  const words: Readonly<Record<string, CauseWords>> = CAUSE_WORDS
  return words[cause]?.name ?? cause
}

/** A cause in the middle of a sentence. @example sayCauseWithin('passivated') // 'passivated' */
export function sayCauseWithin(cause: string): string {
  const name = sayCause(cause)
  return name.charAt(0).toLowerCase() + name.slice(1)
}

export function causeMeaning(cause: string): string {
  const words: Readonly<Record<string, CauseWords>> = CAUSE_WORDS
  return words[cause]?.meaning ?? ''
}

export function causePlain(cause: string): string {
  const words: Readonly<Record<string, CauseWords>> = CAUSE_WORDS
  return words[cause]?.plain ?? `${sayCause(cause)}.`
}

export type Direction = (typeof FINDING_DIRECTIONS)[number]

export const DIRECTION_WORDS: Readonly<Record<Direction, string>> = {
  fast: 'Wastes fast',
  slow: 'Hardly wastes',
  other: 'Sign without wear',
}

/** Told by shape, so that colour is never alone. */
export const DIRECTION_SYMBOLS: Readonly<Record<Direction, string>> = { fast: '▲▲', slow: '▽', other: '◆' }

export const STATE_WORDS: Readonly<Record<FindingState, string>> = {
  open: 'Open',
  acknowledged: 'Acknowledged',
  checked: 'Checked',
  resolved: 'Resolved',
  closed: 'Closed',
}

export const EVENT_WORDS: Readonly<Record<FindingEventKind, string>> = {
  opened: 'Found',
  acknowledged: 'Acknowledged',
  checked: 'Check recorded',
  resolved: 'Resolved',
  reopened: 'Reopened',
  'no-longer-seen': 'No longer seen in the wear',
  'seen-again': 'Seen again in the wear',
  closed: 'Closed: the records no longer support it',
}

export const SCOPE_WORDS: Readonly<
  Record<Scope, { readonly name: string; readonly within: string; readonly who: string }>
> = {
  anode: { name: 'The anode alone', within: 'the anode alone', who: 'the others of its boat do not show it' },
  boat: { name: 'The whole boat', within: 'the whole boat', who: 'its anodes go together' },
  berth: { name: 'The berth', within: 'the berth', who: 'whoever lies there has it' },
  pontoon: { name: 'The pontoon', within: 'the pontoon', who: 'its boats go together' },
}

/**
 * Bounds of the words for a probability. Intergovernmental Panel on Climate Change, Fourth Assessment Report (2007),
 * Working Group II, front matter, section F: likelihood of an outcome. "About as likely as not" is split at a half, with
 * "more likely than not" of Working Group I's technical summary.
 */
const LIKELIHOODS = [
  [0.99, 'virtually certain'],
  [0.9, 'very likely'],
  [0.66, 'likely'],
  [0.5, 'more likely than not'],
  [0.33, 'about as likely as not'],
  [0.1, 'unlikely'],
  [0.01, 'very unlikely'],
] as const

/** @example sayLikelihood(0.81) // 'likely' */
export function sayLikelihood(probability: number): string {
  return LIKELIHOODS.find(([above]) => probability > above)?.[1] ?? 'exceptionally unlikely'
}
