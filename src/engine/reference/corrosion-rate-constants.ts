import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Constant of rate = K·W/(A·T·D) for one unit of the rate; W in g, A in cm², T in h, D in g/cm³. */
export interface CorrosionRateConstantRow {
  readonly unit: string
  readonly k: number
  /** Per mass and area the density is left out of the answer: rate = K·D·W/(A·T·D). */
  readonly timesDensity: boolean
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const BOTH = { sources: ['astm-g1', 'astm-g31'] } as const
const RECALLED = { ...BOTH, status: 'memory', note: 'checked by arithmetic' } as const

/** Constants of the corrosion rate by unit, as ASTM G1 and G31 round them. */
export const CORROSION_RATE_CONSTANTS = [
  { unit: 'mil/year', k: 3.45e6, timesDensity: false, ...BOTH, status: 'verified', note: '' },
  { unit: 'in/year', k: 3.45e3, timesDensity: false, ...RECALLED },
  { unit: 'in/month', k: 2.87e2, timesDensity: false, ...RECALLED },
  { unit: 'mm/year', k: 8.76e4, timesDensity: false, ...BOTH, status: 'verified', note: '' },
  { unit: 'µm/year', k: 8.76e7, timesDensity: false, ...RECALLED },
  { unit: 'pm/s', k: 2.78e6, timesDensity: false, ...RECALLED },
  { unit: 'g/(m²·h)', k: 1e4, timesDensity: true, ...RECALLED },
  { unit: 'mg/(dm²·d)', k: 2.4e6, timesDensity: true, ...RECALLED },
  { unit: 'µg/(m²·s)', k: 2.78e6, timesDensity: true, ...RECALLED },
] as const satisfies readonly CorrosionRateConstantRow[]

export type CorrosionRateUnit = (typeof CORROSION_RATE_CONSTANTS)[number]['unit']

/** The constant of one unit. */
export function corrosionRateConstant(unit: CorrosionRateUnit): CorrosionRateConstantRow {
  return CORROSION_RATE_CONSTANTS.find((row) => row.unit === unit)!
}
