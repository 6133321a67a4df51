import type { BoatView } from '../../../contract/boats.js'
import type { Alloy, Condition, Hull, Water } from '../../../contract/vocabulary.js'
import type english from '../../../messages/en/boat.json'

/** A warning, by the key of its words; `stop` where life or the boat is at stake. */
export interface CautionKey {
  readonly key: keyof typeof english.caution
  readonly grade: 'mind' | 'stop'
}

export const SURVEY: CautionKey = {
  key: 'survey',
  grade: 'stop',
}

export const CURRENT_LEAK: CautionKey = {
  key: 'current-leak',
  grade: 'stop',
}

export const NO_PAINT: CautionKey = {
  key: 'no-paint',
  grade: 'mind',
}

const NOT_WORKING: CautionKey = {
  key: 'not-working',
  grade: 'mind',
}

const MAGNESIUM: CautionKey = {
  key: 'magnesium',
  grade: 'stop',
}

const SURVEY_SIGNS: readonly string[] = ['pitted', 'pink'] satisfies Condition[]

/** What the looks of one anode and of the metal around it call for. */
export function cautionsOfConditions(conditions: readonly string[]): CautionKey[] {
  return [
    ...(conditions.some((code) => SURVEY_SIGNS.includes(code)) ? [SURVEY] : []),
    ...(conditions.includes('painted') ? [NO_PAINT] : []),
  ]
}

/** Whether an alloy harms the hull it is meant to protect. */
export function cautionsOfAlloy(alloy: Alloy | null, hull: Hull | null, water: Water | null): CautionKey[] {
  const inSalt = water === null || water !== 'fresh'
  return alloy === 'magnesium' && inSalt && (hull === 'aluminium' || hull === 'wood') ? [MAGNESIUM] : []
}

interface BoatSigns {
  readonly boat: Pick<BoatView, 'hull'>
  readonly water: Water | null
  readonly alloys: readonly (Alloy | null)[]
  readonly wear: readonly string[]
  /** Of the last weighing of each anode in place. */
  readonly conditions: readonly string[]
}

/** Every caution that a boat calls for, each once, the gravest first. */
export function cautionsOfBoat({ boat, water, alloys, wear, conditions }: BoatSigns): CautionKey[] {
  const all = [
    ...(wear.includes('fast') ? [CURRENT_LEAK] : []),
    ...cautionsOfConditions(conditions),
    ...alloys.flatMap((alloy) => cautionsOfAlloy(alloy, boat.hull, water)),
    ...(wear.includes('slow') ? [NOT_WORKING] : []),
  ]
  const once = [...new Map(all.map((caution) => [caution.key, caution])).values()]
  return once.toSorted((a, b) => Number(b.grade === 'stop') - Number(a.grade === 'stop'))
}
