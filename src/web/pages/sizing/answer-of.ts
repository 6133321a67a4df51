import { seawaterResistivity } from '../../../engine/electrochemistry/seawater.js'
import { OutOfRange } from '../../../engine/errors.js'
import type { AnodeShape } from '../../../engine/sizing/anode-shape.js'
import {
  lacksDensities,
  type ProtectedArea,
  type ProtectionCurrent,
  protectionCurrent,
  takesCoating,
} from '../../../engine/sizing/protection-current.js'
import { type Sizing, sizeAnodes } from '../../../engine/sizing/size-anodes.js'
import { toCelsius } from '../../wording/temperature.js'
import { parseNumber } from '../../wording/typed-number.js'
import type { FigureField, SizingDraft } from './sizing-draft.js'

const MM_PER_M = 1000
const G_PER_KG = 1000
const CM2_PER_M2 = 10_000

/** What is wrong with a figure. */
export type Wrong =
  | { readonly kind: 'missing' | 'noArea' | 'areaAbove' }
  | { readonly kind: 'noNumber'; readonly text: string }
  | { readonly kind: 'refused'; readonly error: OutOfRange }

/** What a form comes to: the sizing and what it was asked, or what has to be mended. */
export type SizingAnswer =
  | {
      readonly kind: 'sized'
      readonly sizing: Sizing
      readonly current: ProtectionCurrent
      readonly years: number
      readonly resistivityOhmM: number
      /** Whether the current comes from areas and tables, and so carries their spread. */
      readonly isEstimated: boolean
      /** Whether a surface has no initial or final current density of its own. */
      readonly takesMeans: boolean
    }
  | { readonly kind: 'unread'; readonly problems: ReadonlyMap<string, Wrong> }

/** Where the form shows the error of a row of the list of surfaces. */
export function areaField(id: number): string {
  return `area-${id}`
}

/** Reads the form and sizes the anodes; what the engine refuses is told at its field. */
export function answerOf(draft: SizingDraft): SizingAnswer {
  const problems = new Map<string, Wrong>()
  const read = readerOf(draft, problems)
  const areas = draft.demand === 'areas' ? areasOf(draft, problems) : null
  const given = areas ?? { initialA: read('initialA'), meanA: read('meanA'), finalA: read('finalA') }
  const years = read('years')
  const water =
    draft.waterBy === 'salinity'
      ? { salinityPsu: read('salinityPsu'), temperatureC: toCelsius(read('temperature')) }
      : { resistivityOhmM: read('resistivityOhmM') }
  const anode = anodeOf(draft, read)
  if (problems.size > 0) return { kind: 'unread', problems }
  try {
    const current = 'meanA' in given ? given : protectionCurrent(given, years)
    const resistivityOhmM =
      'resistivityOhmM' in water ? water.resistivityOhmM : seawaterResistivity(water.salinityPsu, water.temperatureC)
    const sizing = sizeAnodes({ current, years, alloy: draft.alloy, resistivityOhmM, anode })
    const takesMeans = areas?.some(({ surface }) => lacksDensities(surface)) ?? false
    return { kind: 'sized', sizing, current, years, resistivityOhmM, isEstimated: areas !== null, takesMeans }
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error
    return { kind: 'unread', problems: new Map([[FIELD_OF[error.quantity] ?? 'form', { kind: 'refused', error }]]) }
  }
}

type Read = (field: FigureField) => number

function readerOf(draft: SizingDraft, problems: Map<string, Wrong>): Read {
  return (field) => readNumber(draft[field], field, problems)
}

function readNumber(text: string, field: string, problems: Map<string, Wrong>): number {
  const value = parseNumber(text)
  if (value === null) problems.set(field, { kind: 'missing' })
  else if (Number.isNaN(value)) problems.set(field, { kind: 'noNumber', text: text.trim() })
  return value ?? Number.NaN
}

function areasOf({ areas }: SizingDraft, problems: Map<string, Wrong>): ProtectedArea[] {
  if (areas.length === 0) problems.set('form', { kind: 'noArea' })
  return areas.map(({ id, surface, areaM2, coating }) => {
    const area = readNumber(areaM2, areaField(id), problems)
    if (area <= 0) problems.set(areaField(id), { kind: 'areaAbove' })
    return { surface, areaM2: area, coating: takesCoating(surface) ? coating : 'none' }
  })
}

function anodeOf({ shape }: SizingDraft, read: Read): AnodeShape {
  const metres = (field: FigureField) => read(field) / MM_PER_M
  if (shape === 'other')
    return { shape, massKg: read('massG') / G_PER_KG, exposedAreaM2: read('exposedCm2') / CM2_PER_M2 }
  if (shape === 'plate')
    return { shape, lengthM: metres('lengthMm'), widthM: metres('widthMm'), thicknessM: metres('thicknessMm') }
  return {
    shape,
    lengthM: metres('lengthMm'),
    radiusM: metres('diameterMm') / 2,
    coreRadiusM: metres('coreDiameterMm') / 2,
    distanceM: metres('distanceMm'),
  }
}

/** The field behind each quantity that the engine may refuse. */
const FIELD_OF: Readonly<Record<string, FigureField>> = {
  life: 'years',
  'coating age': 'years',
  'mean current': 'meanA',
  'wanted initial-current': 'initialA',
  'wanted final-current': 'finalA',
  resistivity: 'resistivityOhmM',
  salinity: 'salinityPsu',
  temperature: 'temperature',
  length: 'lengthMm',
  width: 'widthMm',
  thickness: 'thicknessMm',
  radius: 'diameterMm',
  'core radius': 'coreDiameterMm',
  distance: 'distanceMm',
  'mass of an anode': 'massG',
  'exposed area': 'exposedCm2',
}
