import type { CurrentDemandKey } from '../../../engine/reference/current-demand.js'
import type { AnodeAlloy } from '../../../engine/reference/vocabulary.js'
import type { AnodeShape } from '../../../engine/sizing/anode-shape.js'
import type { Coating } from '../../../engine/sizing/protection-current.js'
import { inReadersDegrees } from '../../wording/temperature.js'

/** One protected surface as typed. */
export interface AreaDraft {
  readonly id: number
  readonly surface: CurrentDemandKey
  readonly areaM2: string
  readonly coating: Coating
}

/** Every figure that is typed, by the unit it is typed in. */
export interface SizingFigures {
  readonly initialA: string
  readonly meanA: string
  readonly finalA: string
  readonly salinityPsu: string
  /** In the unit that its reader thinks in. */
  readonly temperature: string
  readonly resistivityOhmM: string
  readonly years: string
  readonly lengthMm: string
  readonly widthMm: string
  readonly thicknessMm: string
  readonly diameterMm: string
  readonly coreDiameterMm: string
  readonly distanceMm: string
  readonly massG: string
  readonly exposedCm2: string
}
export type FigureField = keyof SizingFigures

/** What is asked, as it stands in the form. */
export interface SizingDraft extends SizingFigures {
  readonly demand: 'areas' | 'current'
  readonly areas: readonly AreaDraft[]
  readonly waterBy: 'salinity' | 'resistivity'
  readonly alloy: AnodeAlloy
  readonly shape: AnodeShape['shape']
}

/** An example to begin with: shaft and propeller of a small sailing boat, one shaft anode, a year. */
export const EXAMPLE: SizingDraft = {
  demand: 'areas',
  areas: [
    { id: 1, surface: 'stainless-shaft', areaM2: '0.16', coating: 'none' },
    { id: 2, surface: 'bronze-propeller', areaM2: '0.06', coating: 'none' },
  ],
  initialA: '0.05',
  meanA: '0.02',
  finalA: '0.03',
  waterBy: 'salinity',
  salinityPsu: '32',
  temperature: String(Math.round(inReadersDegrees(12))),
  resistivityOhmM: '30',
  years: '1',
  alloy: 'zinc',
  shape: 'other',
  lengthMm: '300',
  widthMm: '150',
  thicknessMm: '40',
  diameterMm: '60',
  coreDiameterMm: '12',
  distanceMm: '300',
  massG: '450',
  exposedCm2: '90',
}

/** A row more, numbered past all others. */
export function withArea(areas: readonly AreaDraft[]): AreaDraft[] {
  const id = 1 + Math.max(0, ...areas.map((area) => area.id))
  return [...areas, { id, surface: 'bronze-fittings', areaM2: '', coating: 'none' }]
}
