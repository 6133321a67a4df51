import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Families of metals that behave alike. */
export type MetalGroup =
  | 'carbon'
  | 'noble'
  | 'nickel'
  | 'titanium'
  | 'stainless'
  | 'solder'
  | 'copper'
  | 'lead-tin'
  | 'iron'
  | 'cadmium'
  | 'aluminium'
  | 'zinc'
  | 'magnesium'

/** One metal of the series: its free corrosion potential in flowing seawater, as a range. */
export interface GalvanicRow {
  readonly key: string
  readonly name: string
  readonly group: MetalGroup
  /** Given where the metal keeps or loses a passive film. */
  readonly state?: 'passive' | 'active'
  /** Most negative and most positive potential met [V against saturated calomel]. */
  readonly lowVSce: number
  readonly highVSce: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const FLOWING: readonly SourceKey[] = ['aca-flowing-seawater']
const READ = { status: 'verified', sources: FLOWING, note: '' } as const

const ROWS = [
  { key: 'graphite', name: 'Graphite', group: 'carbon', lowVSce: 0.2, highVSce: 0.3, ...READ },
  {
    key: 'carbon-fibre',
    name: 'Carbon fibre laminate (treated as graphite)',
    group: 'carbon',
    lowVSce: 0.2,
    highVSce: 0.3,
    status: 'assumed',
    sources: FLOWING,
    note: 'same range as graphite; an assumption, not a printed row',
  },
  { key: 'platinum', name: 'Platinum', group: 'noble', lowVSce: 0.18, highVSce: 0.26, ...READ },
  {
    key: 'ni-cr-mo-alloy-c',
    name: 'Nickel-chromium-molybdenum alloy C',
    group: 'nickel',
    lowVSce: 0.03,
    highVSce: 0.09,
    ...READ,
  },
  {
    key: 'titanium',
    name: 'Titanium',
    group: 'titanium',
    lowVSce: 0.04,
    highVSce: 0.06,
    status: 'verified',
    sources: FLOWING,
    note: 'as printed on the page read; the graphical chart in handbooks is often read as -0.05 to +0.06',
  },
  {
    key: 'stainless-alloy-20',
    name: 'Stainless alloy 20, cast and wrought',
    group: 'stainless',
    state: 'passive',
    lowVSce: -0.04,
    highVSce: 0.06,
    status: 'corrected',
    sources: FLOWING,
    note: 'page prints "+0.06 0.04" without a sign on the second figure; minus assumed from the order of the list',
  },
  {
    key: 'ni-fe-cr-825',
    name: 'Nickel-iron-chromium alloy 825',
    group: 'nickel',
    lowVSce: -0.02,
    highVSce: 0.04,
    status: 'corrected',
    sources: FLOWING,
    note: 'page prints "+0.04 0.02"; minus assumed from the chart',
  },
  {
    key: 'stainless-316-passive',
    name: 'Stainless steel 316, 317 passive',
    group: 'stainless',
    state: 'passive',
    lowVSce: -0.1,
    highVSce: 0,
    ...READ,
  },
  {
    key: 'nickel-copper-400',
    name: 'Nickel-copper alloys 400 and K-500',
    group: 'nickel',
    lowVSce: -0.14,
    highVSce: -0.03,
    ...READ,
  },
  {
    key: 'stainless-304-passive',
    name: 'Stainless steel 302, 304, 321, 347 passive',
    group: 'stainless',
    state: 'passive',
    lowVSce: -0.1,
    highVSce: -0.04,
    ...READ,
  },
  { key: 'silver', name: 'Silver', group: 'noble', lowVSce: -0.15, highVSce: -0.1, ...READ },
  { key: 'nickel-200', name: 'Nickel 200', group: 'nickel', lowVSce: -0.2, highVSce: -0.1, ...READ },
  { key: 'silver-braze', name: 'Silver brazing alloys', group: 'solder', lowVSce: -0.2, highVSce: -0.09, ...READ },
  {
    key: 'ni-cr-600-passive',
    name: 'Nickel-chromium alloy 600 passive',
    group: 'nickel',
    state: 'passive',
    lowVSce: -0.18,
    highVSce: -0.13,
    ...READ,
  },
  {
    key: 'nickel-aluminium-bronze',
    name: 'Nickel-aluminium bronze',
    group: 'copper',
    lowVSce: -0.22,
    highVSce: -0.14,
    ...READ,
  },
  { key: 'cupronickel-70-30', name: 'Copper-nickel 70-30', group: 'copper', lowVSce: -0.24, highVSce: -0.17, ...READ },
  { key: 'lead', name: 'Lead', group: 'lead-tin', lowVSce: -0.25, highVSce: -0.19, ...READ },
  {
    key: 'stainless-430-passive',
    name: 'Stainless steel 430 passive',
    group: 'stainless',
    state: 'passive',
    lowVSce: -0.28,
    highVSce: -0.2,
    ...READ,
  },
  { key: 'cupronickel-80-20', name: 'Copper-nickel 80-20', group: 'copper', lowVSce: -0.27, highVSce: -0.21, ...READ },
  { key: 'cupronickel-90-10', name: 'Copper-nickel 90-10', group: 'copper', lowVSce: -0.28, highVSce: -0.22, ...READ },
  { key: 'nickel-silver', name: 'Nickel silver', group: 'copper', lowVSce: -0.28, highVSce: -0.24, ...READ },
  {
    key: 'stainless-410-passive',
    name: 'Stainless steel 410, 416 passive',
    group: 'stainless',
    state: 'passive',
    lowVSce: -0.35,
    highVSce: -0.23,
    ...READ,
  },
  {
    key: 'tin-bronze-g-m',
    name: 'Tin bronzes G and M (gunmetal)',
    group: 'copper',
    lowVSce: -0.32,
    highVSce: -0.24,
    ...READ,
  },
  { key: 'silicon-bronze', name: 'Silicon bronze', group: 'copper', lowVSce: -0.29, highVSce: -0.25, ...READ },
  {
    key: 'manganese-bronze',
    name: 'Manganese bronze (a high-zinc brass)',
    group: 'copper',
    lowVSce: -0.34,
    highVSce: -0.26,
    ...READ,
  },
  { key: 'admiralty-brass', name: 'Admiralty brass', group: 'copper', lowVSce: -0.36, highVSce: -0.26, ...READ },
  { key: 'aluminium-brass', name: 'Aluminium brass', group: 'copper', lowVSce: -0.36, highVSce: -0.26, ...READ },
  { key: 'solder-50-50', name: 'Lead-tin solder 50/50', group: 'lead-tin', lowVSce: -0.36, highVSce: -0.27, ...READ },
  { key: 'copper', name: 'Copper', group: 'copper', lowVSce: -0.37, highVSce: -0.3, ...READ },
  { key: 'tin', name: 'Tin', group: 'lead-tin', lowVSce: -0.33, highVSce: -0.3, ...READ },
  { key: 'naval-brass', name: 'Naval brass', group: 'copper', lowVSce: -0.4, highVSce: -0.31, ...READ },
  { key: 'yellow-brass', name: 'Yellow brass', group: 'copper', lowVSce: -0.4, highVSce: -0.31, ...READ },
  { key: 'red-brass', name: 'Red brass', group: 'copper', lowVSce: -0.4, highVSce: -0.31, ...READ },
  {
    key: 'aluminium-bronze',
    name: 'Aluminium bronze (without nickel)',
    group: 'copper',
    lowVSce: -0.4,
    highVSce: -0.31,
    ...READ,
  },
  {
    key: 'stainless-316-active',
    name: 'Stainless steel 316, 317 active',
    group: 'stainless',
    state: 'active',
    lowVSce: -0.46,
    highVSce: -0.33,
    ...READ,
  },
  {
    key: 'ni-cr-600-active',
    name: 'Nickel-chromium alloy 600 active',
    group: 'nickel',
    state: 'active',
    lowVSce: -0.46,
    highVSce: -0.34,
    ...READ,
  },
  {
    key: 'austenitic-nickel-cast-iron',
    name: 'Austenitic nickel cast iron',
    group: 'iron',
    lowVSce: -0.54,
    highVSce: -0.43,
    ...READ,
  },
  {
    key: 'stainless-304-active',
    name: 'Stainless steel 302, 304, 321, 347 active',
    group: 'stainless',
    state: 'active',
    lowVSce: -0.58,
    highVSce: -0.44,
    ...READ,
  },
  {
    key: 'stainless-410-active',
    name: 'Stainless steel 410, 416 active',
    group: 'stainless',
    state: 'active',
    lowVSce: -0.57,
    highVSce: -0.45,
    ...READ,
  },
  {
    key: 'stainless-430-active',
    name: 'Stainless steel 430 active',
    group: 'stainless',
    state: 'active',
    lowVSce: -0.57,
    highVSce: -0.45,
    ...READ,
  },
  { key: 'low-alloy-steel', name: 'Low-alloy steel', group: 'iron', lowVSce: -0.63, highVSce: -0.57, ...READ },
  { key: 'mild-steel', name: 'Mild steel', group: 'iron', lowVSce: -0.72, highVSce: -0.6, ...READ },
  { key: 'cast-iron', name: 'Cast iron', group: 'iron', lowVSce: -0.72, highVSce: -0.6, ...READ },
  { key: 'cadmium', name: 'Cadmium', group: 'cadmium', lowVSce: -0.74, highVSce: -0.7, ...READ },
  {
    key: 'aluminium-alloy',
    name: 'Aluminium alloys (marine 5xxx, 6xxx and castings)',
    group: 'aluminium',
    lowVSce: -1,
    highVSce: -0.76,
    ...READ,
  },
  { key: 'zinc', name: 'Zinc', group: 'zinc', lowVSce: -1.03, highVSce: -0.98, ...READ },
  { key: 'magnesium', name: 'Magnesium', group: 'magnesium', lowVSce: -1.63, highVSce: -1.6, ...READ },
] as const satisfies readonly GalvanicRow[]

export type GalvanicMetal = (typeof ROWS)[number]['key']

/** The galvanic series in flowing seawater, most noble first. */
export const GALVANIC_SERIES: readonly (GalvanicRow & { readonly key: GalvanicMetal })[] = ROWS

/** The keys of the series: what a fitting's metal may be. */
export const GALVANIC_METALS: readonly GalvanicMetal[] = ROWS.map((row) => row.key)

const ROW_OF_METAL = new Map(GALVANIC_SERIES.map((row) => [row.key, row]))

/** The series' row of one metal. */
export function galvanicMetal(metal: GalvanicMetal): GalvanicRow & { readonly key: GalvanicMetal } {
  return ROW_OF_METAL.get(metal)!
}

/** Middle of a row's range [V against saturated calomel]. */
export function midpointVSce(row: GalvanicRow): number {
  return (row.lowVSce + row.highVSce) / 2
}
