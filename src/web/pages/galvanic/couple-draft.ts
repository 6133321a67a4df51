import { couplesOf, type FilmedCouple, isPlausibleArea, type WettedMetal } from '../../../engine/galvanic/couple.js'
import type { GalvanicMetal } from '../../../engine/reference/galvanic-series.js'
import type { Water } from '../../../engine/reference/vocabulary.js'
import { parseNumber } from '../../wording/typed-number.js'
import { t } from './galvanic-words.js'

/** One metal as it stands in the form; an empty area is not known. */
export interface MetalDraft {
  readonly id: number
  readonly metal: GalvanicMetal
  readonly areaCm2: string
}

export interface CoupleDraft {
  readonly metals: readonly MetalDraft[]
  readonly water: Water
}

/** An example to begin with: a propeller on its shaft, and the bolts of its strut. */
export const EXAMPLE: CoupleDraft = {
  metals: [
    { id: 1, metal: 'stainless-316-passive', areaCm2: '1900' },
    { id: 2, metal: 'manganese-bronze', areaCm2: '1450' },
    { id: 3, metal: 'mild-steel', areaCm2: '60' },
  ],
  water: 'salt',
}

/** More than this is no longer read by anybody: 12 metals make 66 pairs. Convention. */
export const MOST_METALS = 12

/** A row more, numbered past all others. */
export function withMetal(metals: readonly MetalDraft[]): MetalDraft[] {
  const id = 1 + Math.max(0, ...metals.map((metal) => metal.id))
  return [...metals, { id, metal: 'silicon-bronze', areaCm2: '' }]
}

/** What the form comes to, and what has to be mended, by the row's id. */
export interface CoupleAnswer {
  readonly pairs: readonly FilmedCouple[]
  readonly problems: ReadonlyMap<number, string>
}

/** Every pair of the metals whose area can be read, gravest first; the others are told at their row. */
export function coupleAnswer({ metals, water }: CoupleDraft): CoupleAnswer {
  const problems = new Map<number, string>()
  const read = metals.flatMap(({ id, metal, areaCm2 }): WettedMetal[] => {
    if (areaCm2.trim() === '') return [{ metal, areaCm2: null }]
    const area = parseNumber(areaCm2)
    if (area !== null && isPlausibleArea(area)) return [{ metal, areaCm2: area }]
    problems.set(id, t('form.wrongArea'))
    return []
  })
  return { pairs: couplesOf(read, water).toSorted((a, b) => b.typicalVolts - a.typicalVolts), problems }
}
