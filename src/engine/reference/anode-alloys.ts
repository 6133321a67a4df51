import { type MetalDensityKey, metalDensity } from './metal-densities.js'
import type { SourceKey } from './sources.js'
import type { Status } from './status.js'
import type { AnodeAlloy, Water } from './vocabulary.js'

/** How an alloy does in a water: works, works with loss of life or activity, or is not to be used. */
export type Suitability = 'yes' | 'limited' | 'no'

/** One alloy as one specification or handbook gives it. */
export interface AnodeAlloyRow {
  readonly key: string
  readonly name: string
  readonly specification: string
  /** Typical density [g/cm³], and the range met in practice; from `metal-densities.ts`. */
  readonly densityGPerCm3: number
  readonly densityLowGPerCm3: number
  readonly densityHighGPerCm3: number
  /** Charge that full dissolution would give [A·h/kg], by Faraday's law and the alloy's composition. */
  readonly theoreticalAhPerKg: number
  /** Electrochemical capacity to design with [A·h/kg]. */
  readonly practicalAhPerKg: number
  /** Closed-circuit potential [V against silver/silver chloride in seawater]. */
  readonly closedCircuitVAgAgcl: number
  readonly suits: Readonly<Record<Water, Suitability>>
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/** Density columns of an alloy, from the table of densities. */
function densityColumns(metal: MetalDensityKey) {
  const { typicalGPerCm3, lowGPerCm3, highGPerCm3 } = metalDensity(metal)
  return { densityGPerCm3: typicalGPerCm3, densityLowGPerCm3: lowGPerCm3, densityHighGPerCm3: highGPerCm3 }
}

const ZINC_DENSITY = densityColumns('zinc')
const ALUMINIUM_DENSITY = densityColumns('aluminium-zinc-indium')

const ROWS = [
  {
    key: 'zinc',
    name: 'Zinc-aluminium-cadmium, seawater grade',
    specification: 'DNV-RP-B401 Table 10-6',
    ...ZINC_DENSITY,
    theoreticalAhPerKg: 820,
    practicalAhPerKg: 780,
    closedCircuitVAgAgcl: -1,
    suits: { salt: 'yes', brackish: 'limited', fresh: 'no' },
    status: 'verified-in-part',
    sources: ['zinc-standards-page', 'rp-b401'],
    note: 'capacity and potential read on a page that compares four standards; density from memory',
  },
  {
    key: 'zinc-mil',
    name: 'Zinc-aluminium-cadmium',
    specification: 'MIL-A-18001K (now MIL-DTL-18001), ASTM B418 type I',
    ...ZINC_DENSITY,
    theoreticalAhPerKg: 820,
    practicalAhPerKg: 780,
    closedCircuitVAgAgcl: -1.05,
    suits: { salt: 'yes', brackish: 'limited', fresh: 'no' },
    status: 'verified-in-part',
    sources: ['mil-18001-page'],
    note: '780 A.h/kg and -1.05 V as quoted by a supplier; composition limits read there too',
  },
  {
    key: 'zinc-en',
    name: 'Zinc alloys Z1 and Z3',
    specification: 'EN 12496 (now ISO 9351)',
    ...ZINC_DENSITY,
    theoreticalAhPerKg: 820,
    practicalAhPerKg: 780,
    closedCircuitVAgAgcl: -1.03,
    suits: { salt: 'yes', brackish: 'limited', fresh: 'no' },
    status: 'verified-in-part',
    sources: ['zinc-standards-page'],
    note: 'at least 780 A.h/kg and no more positive than -1.03 V',
  },
  {
    key: 'zinc-tp17',
    name: 'Zinc, general design',
    specification: 'DoD Electrical TP-17 (2017) 1.1.3',
    ...ZINC_DENSITY,
    theoreticalAhPerKg: 820,
    practicalAhPerKg: 738,
    closedCircuitVAgAgcl: -1.05,
    suits: { salt: 'yes', brackish: 'limited', fresh: 'limited' },
    status: 'verified-in-part',
    sources: ['tp-17'],
    note: 'theory 372 A.h/lb (820 A.h/kg), 90 % for design, 90-95 % observed; 738 = 0.90 x 820',
  },
  {
    key: 'aluminium',
    name: 'Aluminium-zinc-indium',
    specification: 'DNV-RP-B401 Table 10-6 (design value)',
    ...ALUMINIUM_DENSITY,
    theoreticalAhPerKg: 2872,
    practicalAhPerKg: 2000,
    closedCircuitVAgAgcl: -1.05,
    suits: { salt: 'yes', brackish: 'yes', fresh: 'limited' },
    status: 'verified-in-part',
    sources: ['harbour-calculation', 'bracelet-sheet', 'rp-b401'],
    note: '2000 A.h/kg read in a design calculation that cites it; -1.05 V from memory, agrees with its 0.25 V driving voltage',
  },
  {
    key: 'aluminium-mil',
    name: 'Aluminium-zinc-indium',
    specification: 'MIL-DTL-24779',
    ...ALUMINIUM_DENSITY,
    theoreticalAhPerKg: 2872,
    practicalAhPerKg: 2443,
    closedCircuitVAgAgcl: -1.05,
    suits: { salt: 'yes', brackish: 'yes', fresh: 'limited' },
    status: 'verified-in-part',
    sources: ['study-guide-sheet'],
    note: '1108 A.h/lb = 2443 A.h/kg in a sizing sheet that cites a boat-standard study guide; the specification itself calls for more (about 2535), from memory',
  },
  {
    key: 'aluminium-handbook',
    name: 'Aluminium seawater alloys, handbook',
    specification: 'Corrosion Engineering: Principles and Practice, ch. 13',
    ...ALUMINIUM_DENSITY,
    theoreticalAhPerKg: 2872,
    practicalAhPerKg: 2800,
    closedCircuitVAgAgcl: -1.05,
    suits: { salt: 'yes', brackish: 'yes', fresh: 'limited' },
    status: 'verified',
    sources: ['corrosion-engineering-p554'],
    note: '95 % of 2960 in the book; optimistic beside the design value of 2000',
  },
  {
    key: 'aluminium-handbook-1004',
    name: 'Aluminium seawater alloys',
    specification: 'MIL-HDBK-1004/10 design example',
    ...ALUMINIUM_DENSITY,
    theoreticalAhPerKg: 2872,
    practicalAhPerKg: 2541,
    closedCircuitVAgAgcl: -1.05,
    suits: { salt: 'yes', brackish: 'yes', fresh: 'limited' },
    status: 'verified',
    sources: ['mil-hdbk-1004-10-p209'],
    note: '7.6 lb per A.year with efficiency included',
  },
  {
    key: 'magnesium-az63',
    name: 'Magnesium-6 % aluminium-3 % zinc (standard)',
    specification: 'ASTM B843 AZ63 (H-1)',
    ...densityColumns('magnesium-az63'),
    theoreticalAhPerKg: 2208,
    practicalAhPerKg: 1100,
    closedCircuitVAgAgcl: -1.39,
    suits: { salt: 'no', brackish: 'no', fresh: 'yes' },
    status: 'verified-in-part',
    sources: ['corrosion-engineering-p554'],
    note: 'about 50 % efficiency; -1.45 V against copper sulfate, here +0.06 V',
  },
  {
    key: 'magnesium-high-potential',
    name: 'Magnesium-manganese (high potential)',
    specification: 'ASTM B843 M1C',
    ...densityColumns('magnesium-high-potential'),
    theoreticalAhPerKg: 2193,
    practicalAhPerKg: 1100,
    closedCircuitVAgAgcl: -1.64,
    suits: { salt: 'no', brackish: 'no', fresh: 'yes' },
    status: 'verified-in-part',
    sources: ['corrosion-engineering-p554', 'mil-hdbk-1004-10-p198'],
    note: '-1.70 V against copper sulfate, here +0.06 V; 8.8 lb per A.year in theory and 0.50 efficiency in the military handbook',
  },
] as const satisfies readonly AnodeAlloyRow[]

export type AnodeAlloyKey = (typeof ROWS)[number]['key']

/** Every alloy row, by specification: zinc, aluminium, magnesium. */
export const ANODE_ALLOY_ROWS: readonly (AnodeAlloyRow & { readonly key: AnodeAlloyKey })[] = ROWS

/**
 * The row to compute with where only the alloy's family is known: the offshore design values for zinc and aluminium
 * (the most careful of each family), the standard grade for magnesium. The choice is an assumption of this project.
 */
export const DESIGN_ROW_OF_ALLOY: Readonly<Record<AnodeAlloy, AnodeAlloyKey>> = {
  zinc: 'zinc',
  aluminium: 'aluminium',
  magnesium: 'magnesium-az63',
}

/** The alloy family that a row belongs to. */
export function familyOfAlloyRow(key: AnodeAlloyKey): AnodeAlloy {
  if (key.startsWith('zinc')) return 'zinc'
  return key.startsWith('aluminium') ? 'aluminium' : 'magnesium'
}

/** The row to compute with for an alloy family. Source: `DESIGN_ROW_OF_ALLOY`. */
export function designAlloy(alloy: AnodeAlloy): AnodeAlloyRow {
  const key = DESIGN_ROW_OF_ALLOY[alloy]
  return ANODE_ALLOY_ROWS.find((row) => row.key === key)!
}

/** Share of the theoretical capacity that the row's practical capacity makes use of [–]. */
export function efficiency(row: AnodeAlloyRow): number {
  return row.practicalAhPerKg / row.theoreticalAhPerKg
}
