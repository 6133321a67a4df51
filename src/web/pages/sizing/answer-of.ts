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
import { parseNumber } from '../haul-out/draft-body.js'
import type { FigureField, SizingDraft } from './sizing-draft.js'

const MM_PER_M = 1000
const G_PER_KG = 1000
const CM2_PER_M2 = 10_000

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
  | { readonly kind: 'unread'; readonly problems: ReadonlyMap<string, string> }

/** Where the form shows the error of a row of the list of surfaces. */
export function areaField(id: number): string {
  return `area-${id}`
}

/** Reads the form and sizes the anodes; what the engine refuses is told at its field. */
export function answerOf(draft: SizingDraft): SizingAnswer {
  const problems = new Map<string, string>()
  const read = readerOf(draft, problems)
  const areas = draft.demand === 'areas' ? areasOf(draft, problems) : null
  const given = areas ?? { initialA: read('initialA'), meanA: read('meanA'), finalA: read('finalA') }
  const years = read('years')
  const water =
    draft.waterBy === 'salinity'
      ? { salinityPsu: read('salinityPsu'), temperatureC: read('temperatureC') }
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
    return { kind: 'unread', problems: new Map([[FIELD_OF[error.quantity] ?? 'form', sayRefusal(error)]]) }
  }
}

type Read = (field: FigureField) => number

function readerOf(draft: SizingDraft, problems: Map<string, string>): Read {
  return (field) => readNumber(draft[field], field, problems)
}

function readNumber(text: string, field: string, problems: Map<string, string>): number {
  const value = parseNumber(text)
  if (value === null) problems.set(field, 'This figure is needed.')
  else if (Number.isNaN(value)) problems.set(field, `“${text.trim()}” is not a number.`)
  return value ?? Number.NaN
}

function areasOf({ areas }: SizingDraft, problems: Map<string, string>): ProtectedArea[] {
  if (areas.length === 0) problems.set('form', 'Name at least one surface to protect.')
  return areas.map(({ id, surface, areaM2, coating }) => {
    const area = readNumber(areaM2, areaField(id), problems)
    if (area <= 0) problems.set(areaField(id), 'The area must be above 0 m².')
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
  temperature: 'temperatureC',
  length: 'lengthMm',
  width: 'widthMm',
  thickness: 'thicknessMm',
  radius: 'diameterMm',
  'core radius': 'coreDiameterMm',
  distance: 'distanceMm',
  'mass of an anode': 'massG',
  'exposed area': 'exposedCm2',
}

function sayRefusal({ quantity, validRange }: OutOfRange): string {
  return `The ${quantity} must be ${validRange}.`
}
