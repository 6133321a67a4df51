import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Density of a metal that an anode may consist of or be mistaken for. */
export interface MetalDensityRow {
  readonly key: string
  /** Usual value and the range met [g/cm³]. */
  readonly typicalGPerCm3: number
  readonly lowGPerCm3: number
  readonly highGPerCm3: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const ROWS = [
  {
    key: 'zinc',
    typicalGPerCm3: 7.14,
    lowGPerCm3: 7.1,
    highGPerCm3: 7.16,
    status: 'verified',
    sources: ['public-density-tables'],
    note: '7.13-7.14 on several public density tables',
  },
  {
    key: 'aluminium-zinc-indium',
    typicalGPerCm3: 2.75,
    lowGPerCm3: 2.68,
    highGPerCm3: 2.82,
    status: 'memory',
    sources: ['public-density-tables', 'bracelet-sheet'],
    note: '2.70 used in a bracelet sheet (verified); 2.786 by the mixture rule for 5 % Zn',
  },
  {
    key: 'magnesium-az63',
    typicalGPerCm3: 1.84,
    lowGPerCm3: 1.8,
    highGPerCm3: 1.9,
    status: 'memory',
    sources: ['public-density-tables'],
    note: '1.816 by the mixture rule; 1.74 for pure metal',
  },
  {
    key: 'magnesium-high-potential',
    typicalGPerCm3: 1.75,
    lowGPerCm3: 1.73,
    highGPerCm3: 1.78,
    status: 'memory',
    sources: ['public-density-tables'],
    note: '1.7 to 1.74 for the metal on public tables',
  },
  {
    key: 'zamak-type-die-casting',
    typicalGPerCm3: 6.7,
    lowGPerCm3: 6.6,
    highGPerCm3: 6.8,
    status: 'memory',
    sources: ['public-density-tables'],
    note: 'not an anode alloy',
  },
  {
    key: 'pure-aluminium',
    typicalGPerCm3: 2.7,
    lowGPerCm3: 2.69,
    highGPerCm3: 2.71,
    status: 'verified',
    sources: ['public-density-tables', 'cci-notes-9-10'],
    note: 'public density tables, CCI and a university physics page for the method',
  },
  {
    key: 'mild-steel',
    typicalGPerCm3: 7.86,
    lowGPerCm3: 7.8,
    highGPerCm3: 7.9,
    status: 'verified',
    sources: ['public-density-tables'],
    note: '7.85-7.87',
  },
  {
    key: 'cast-iron',
    typicalGPerCm3: 7.2,
    lowGPerCm3: 6.9,
    highGPerCm3: 7.4,
    status: 'memory',
    sources: ['public-density-tables'],
    note: '',
  },
  {
    key: 'brass',
    typicalGPerCm3: 8.45,
    lowGPerCm3: 8.4,
    highGPerCm3: 8.6,
    status: 'verified',
    sources: ['public-density-tables'],
    note: '8.4',
  },
  {
    key: 'lead',
    typicalGPerCm3: 11.34,
    lowGPerCm3: 11.3,
    highGPerCm3: 11.4,
    status: 'verified',
    sources: ['public-density-tables'],
    note: '11.36 on one table',
  },
  {
    key: 'cadmium',
    typicalGPerCm3: 8.65,
    lowGPerCm3: 8.6,
    highGPerCm3: 8.7,
    status: 'memory',
    sources: ['public-density-tables'],
    note: '',
  },
  {
    key: 'tin',
    typicalGPerCm3: 7.3,
    lowGPerCm3: 7.26,
    highGPerCm3: 7.31,
    status: 'verified',
    sources: ['public-density-tables'],
    note: '7.3',
  },
] as const satisfies readonly MetalDensityRow[]

export type MetalDensityKey = (typeof ROWS)[number]['key']

/** Densities of anode alloys, of metals next to them, and of core metals. */
export const METAL_DENSITIES: readonly (MetalDensityRow & { readonly key: MetalDensityKey })[] = ROWS

/** The row of one metal. */
export function metalDensity(key: MetalDensityKey): MetalDensityRow {
  return METAL_DENSITIES.find((row) => row.key === key)!
}
