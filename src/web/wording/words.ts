import type { Condition, Hull, Role, WeighingMethod } from '../../contract/vocabulary.js'

export const HULL_WORDS: Readonly<Record<Hull, string>> = {
  grp: 'Glass-fibre',
  wood: 'Wood',
  steel: 'Steel',
  aluminium: 'Aluminium',
  ferrocement: 'Ferrocement',
}

export const METHOD_WORDS: Readonly<Record<WeighingMethod, string>> = {
  scale: 'scale',
  dimensions: 'calipers',
  visual: 'by eye',
}

export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  administrator: 'administrator',
  staff: 'staff',
  manager: 'manager',
  owner: 'owner',
}

export const CONDITION_WORDS: Readonly<Record<Condition, string>> = {
  even: 'Even wear',
  bright: 'Bright metal',
  'sharp-edged': 'Sharp-edged',
  crusted: 'Crusted',
  painted: 'Painted over',
  loose: 'Loose',
  broken: 'Broken',
  missing: 'Missing',
  undercut: 'Undercut',
  pitted: 'Pitted',
  pink: 'Pink',
  scaled: 'Scaled',
  'paint-blistered': 'Paint blistered',
}

/** @example capital('shaft') // 'Shaft' */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

/** What was seen, in words; a code of a newer service is said as it is. @example sayConditions(['even']) // 'even wear' */
export function sayConditions(codes: readonly string[]): string {
  const words: Readonly<Record<string, string>> = CONDITION_WORDS
  return codes.map((code) => (words[code] ?? code).toLowerCase()).join(', ')
}
