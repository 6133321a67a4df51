import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** One metal of the list printed for boat builders. */
export interface SmallCraftGalvanicRow {
  readonly key: string
  readonly name: string
  /** Free potential [V against silver/silver chloride in seawater]. */
  readonly vAgAgcl: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const LIST: readonly SourceKey[] = ['small-craft-list']
const READ = { status: 'verified', sources: LIST, note: '' } as const

const ROWS = [
  { key: 'magnesium', name: 'Magnesium', vAgAgcl: -1.73, ...READ },
  { key: 'magnesium-2mn', name: 'Magnesium with 2 % manganese (high-potential type)', vAgAgcl: -1.67, ...READ },
  { key: 'magnesium-9al', name: 'Magnesium with 9 % Al, 1.5 % Zn, 1 % Mn', vAgAgcl: -1.58, ...READ },
  { key: 'galvanised-iron', name: 'Hot-dip galvanised iron', vAgAgcl: -1.14, ...READ },
  { key: 'zinc-plating', name: 'Electroplated zinc', vAgAgcl: -1.13, ...READ },
  { key: 'zinc', name: 'Zinc', vAgAgcl: -1.05, ...READ },
  { key: 'cadmium', name: 'Cadmium', vAgAgcl: -0.86, ...READ },
  { key: 'aluminium-alloy', name: 'Aluminium, marine alloys 5083, 5086, 6061', vAgAgcl: -0.82, ...READ },
  { key: 'mild-steel', name: 'Mild or structural steel', vAgAgcl: -0.79, ...READ },
  { key: 'low-alloy-steel', name: 'Alloy steel', vAgAgcl: -0.74, ...READ },
  { key: 'aluminium-forged', name: 'Aluminium, forging alloy', vAgAgcl: -0.73, ...READ },
  {
    key: 'stainless-304-316-active',
    name: 'Stainless 300 series, active (starved of oxygen)',
    vAgAgcl: -0.55,
    ...READ,
  },
  { key: 'tin', name: 'Tin', vAgAgcl: -0.5, ...READ },
  { key: 'manganese-bronze', name: 'Manganese bronze', vAgAgcl: -0.45, ...READ },
  { key: 'naval-brass', name: 'Naval brass 60/39', vAgAgcl: -0.45, ...READ },
  { key: 'yellow-brass', name: 'Yellow brass', vAgAgcl: -0.45, ...READ },
  {
    key: 'silicon-bronze',
    name: 'Silicon bronze',
    vAgAgcl: -0.26,
    status: 'verified',
    sources: LIST,
    note: 'from the worked note under the list: -260 mV becomes -160 mV after adding 100 mV, as the note words it for a zinc cell',
  },
] as const satisfies readonly SmallCraftGalvanicRow[]

/** Galvanic list for small craft, most active first. Single values, often more negative than the flowing-seawater series. */
export const SMALL_CRAFT_GALVANIC_SERIES: readonly SmallCraftGalvanicRow[] = ROWS
