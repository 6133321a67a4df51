import type { SourceKey } from './sources.js'
import type { Status } from './status.js'
import type { Water } from './vocabulary.js'

/** Density of a water at atmospheric pressure. */
export interface WaterDensityRow {
  readonly water: Water
  /** Practical salinity [psu]. */
  readonly salinityPsu: number
  readonly temperatureC: number
  readonly densityKgPerM3: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const EOS_80 = {
  status: 'computed',
  sources: ['unesco-44'],
  note: 'from the equation of state of 1980, which meets the published check values',
} as const

const ROWS = [
  { water: 'fresh', salinityPsu: 0, temperatureC: 5, densityKgPerM3: 999.967, ...EOS_80 },
  { water: 'fresh', salinityPsu: 0, temperatureC: 10, densityKgPerM3: 999.702, ...EOS_80 },
  { water: 'fresh', salinityPsu: 0, temperatureC: 15, densityKgPerM3: 999.102, ...EOS_80 },
  { water: 'fresh', salinityPsu: 0, temperatureC: 20, densityKgPerM3: 998.206, ...EOS_80 },
  { water: 'fresh', salinityPsu: 0, temperatureC: 25, densityKgPerM3: 997.048, ...EOS_80 },
  { water: 'salt', salinityPsu: 35, temperatureC: 5, densityKgPerM3: 1027.675, ...EOS_80 },
  { water: 'salt', salinityPsu: 35, temperatureC: 10, densityKgPerM3: 1026.952, ...EOS_80 },
  { water: 'salt', salinityPsu: 35, temperatureC: 15, densityKgPerM3: 1025.973, ...EOS_80 },
  { water: 'salt', salinityPsu: 35, temperatureC: 20, densityKgPerM3: 1024.763, ...EOS_80 },
  { water: 'salt', salinityPsu: 35, temperatureC: 25, densityKgPerM3: 1023.343, ...EOS_80 },
  { water: 'brackish', salinityPsu: 10, temperatureC: 10, densityKgPerM3: 1007.501, ...EOS_80 },
  { water: 'brackish', salinityPsu: 10, temperatureC: 20, densityKgPerM3: 1005.793, ...EOS_80 },
] as const satisfies readonly WaterDensityRow[]

/** Densities of fresh, brackish and salt water by temperature. */
export const WATER_DENSITIES: readonly WaterDensityRow[] = ROWS

/** The rows of one water, coldest first. */
export function waterDensities(water: Water): readonly WaterDensityRow[] {
  return WATER_DENSITIES.filter((row) => row.water === water)
}
