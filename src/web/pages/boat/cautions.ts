import type { BoatView } from '../../../contract/boats.js'
import type { Alloy, Condition, Hull, Water } from '../../../contract/vocabulary.js'

/** A warning with what calls for it; `stop` where life or the boat is at stake. */
export interface CautionText {
  readonly key: string
  readonly grade: 'mind' | 'stop'
  readonly title: string
  readonly text: string
}

export const SURVEY: CautionText = {
  key: 'survey',
  grade: 'stop',
  title: 'Metal round the anode is going.',
  text: 'A thinned through-hull, pink brass or a shaft pitted at its seal can sink a boat: keep it lifted and have it surveyed.',
}

export const CURRENT_LEAK: CautionText = {
  key: 'current-leak',
  grade: 'stop',
  title: 'Abnormally fast wear: a leak of current may be behind it.',
  text: 'While alternating current is suspected nobody goes in the water near the boat. Switch the shore power off and call a qualified marine electrician.',
}

export const NO_PAINT: CautionText = {
  key: 'no-paint',
  grade: 'mind',
  title: 'Never paint an anode.',
  text: 'Painted over, it protects nothing. Strip it to bare metal or replace it.',
}

const NOT_WORKING: CautionText = {
  key: 'not-working',
  grade: 'mind',
  title: 'An anode that hardly wastes may not be protecting.',
  text: 'Check its contact with the bonding, paint and crust, and whether its alloy suits the water.',
}

const MAGNESIUM: CautionText = {
  key: 'magnesium',
  grade: 'stop',
  title: 'Magnesium does not belong here.',
  text: 'In salt water it drives aluminium and wood beyond what they bear and is itself gone in weeks.',
}

const SURVEY_SIGNS: readonly string[] = ['pitted', 'pink'] satisfies Condition[]

/** What the looks of one anode and of the metal around it call for. */
export function cautionsOfConditions(conditions: readonly string[]): CautionText[] {
  return [
    ...(conditions.some((code) => SURVEY_SIGNS.includes(code)) ? [SURVEY] : []),
    ...(conditions.includes('painted') ? [NO_PAINT] : []),
  ]
}

/** Whether an alloy harms the hull it is meant to protect. */
export function cautionsOfAlloy(alloy: Alloy | null, hull: Hull | null, water: Water | null): CautionText[] {
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
export function cautionsOfBoat({ boat, water, alloys, wear, conditions }: BoatSigns): CautionText[] {
  const all = [
    ...(wear.includes('fast') ? [CURRENT_LEAK] : []),
    ...cautionsOfConditions(conditions),
    ...alloys.flatMap((alloy) => cautionsOfAlloy(alloy, boat.hull, water)),
    ...(wear.includes('slow') ? [NOT_WORKING] : []),
  ]
  const once = [...new Map(all.map((caution) => [caution.key, caution])).values()]
  return once.toSorted((a, b) => Number(b.grade === 'stop') - Number(a.grade === 'stop'))
}
