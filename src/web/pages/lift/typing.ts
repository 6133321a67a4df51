import type { MassUnit } from '../../../contract/vocabulary.js'
import type { AnodeDraft, HaulOutDraft } from '../haul-out/draft.js'

/** Longest figure of the keypad. */
const MOST_CHARACTERS = 7

export type PadKey = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | '.' | 'erase'

/**
 * A figure after one more key. It never becomes something that is no number.
 *
 * @example pressed('31', '0') // '310'
 */
export function pressed(text: string, key: PadKey): string {
  if (key === 'erase') return text.slice(0, -1)
  if (text.length >= MOST_CHARACTERS) return text
  if (key === '.') return text.includes('.') ? text : `${text || '0'}.`
  return text === '0' ? key : text + key
}

/** The unit that was used last in a form: the scale beside the lift does not change between two anodes. */
export function lastUnit(draft: HaulOutDraft, preferred: MassUnit): MassUnit {
  return Object.values(draft.anodes).findLast(({ unit }) => unit !== undefined)?.unit ?? preferred
}

/**
 * What a first figure brings along: the unit and the cleaning of the anode before, since one person with one brush and one
 * scale does them all. Both are shown, and one tap away.
 */
export function withDefaults(
  draft: HaulOutDraft,
  anode: string,
  part: Partial<AnodeDraft>,
  preferred: MassUnit,
): Partial<AnodeDraft> {
  const typed = draft.anodes[anode]
  if (!('mass' in part) || part.mass === '') return part
  const others = Object.entries(draft.anodes).filter(([name]) => name !== anode)
  const cleaned = others.findLast(([, other]) => other.cleaned !== null)?.[1].cleaned ?? null
  return {
    ...(typed?.unit === undefined && { unit: lastUnit(draft, preferred) }),
    ...((typed?.cleaned ?? null) === null && cleaned !== null && { cleaned }),
    ...part,
  }
}

/** The photos, the figure or the new part of an anode: whether it counts as looked at. */
export function isDone(typed: AnodeDraft, photos: number): boolean {
  const figures = [typed.mass, typed.lengthMm, typed.widthMm, typed.heightMm, typed.wastedPercent]
  return photos > 0 || typed.replacedBy !== null || typed.conditions.length > 0 || figures.some((text) => text !== '')
}
