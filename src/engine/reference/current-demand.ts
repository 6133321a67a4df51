import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Design current density of a protected surface: what protection asks for per area. */
export interface CurrentDemandRow {
  readonly key: string
  readonly metal: string
  readonly environment: string
  readonly depthM?: readonly [number, number]
  /** To polarise a fresh surface, over the years, and to repolarise at the end [A/m²]. */
  readonly initialAPerM2?: number
  readonly meanAPerM2: number
  readonly finalAPerM2?: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const STEEL_TABLES = { metal: 'bare-steel', status: 'memory', sources: ['rp-b401'], note: '' } as const
const STEEL_NEAR_SURFACE = { ...STEEL_TABLES, depthM: [0, 30] } as const
const STEEL_DEEPER = { ...STEEL_TABLES, depthM: [30, 100] } as const
const SHIP_SHEET = { metal: 'ship-hull-painted', status: 'verified', sources: ['ship-hull-sheet'], note: '' } as const
const TANK_PAGE = { status: 'verified', sources: ['tank-anode-page'], note: '' } as const
const TRADE_ESTIMATE = { status: 'verified', sources: ['study-guide-sheet'], note: 'trade estimate' } as const

const ROWS = [
  {
    key: 'bare-steel-tropical',
    metal: 'bare-steel',
    environment: 'tropical, above 20 C',
    depthM: [0, 30],
    initialAPerM2: 0.15,
    meanAPerM2: 0.07,
    finalAPerM2: 0.1,
    status: 'verified',
    sources: ['rp-b401', 'harbour-calculation'],
    note: '',
  },
  {
    key: 'bare-steel-subtropical',
    environment: 'subtropical, 12-20 C',
    initialAPerM2: 0.17,
    meanAPerM2: 0.08,
    finalAPerM2: 0.11,
    ...STEEL_NEAR_SURFACE,
  },
  {
    key: 'bare-steel-temperate',
    environment: 'temperate, 7-11 C',
    initialAPerM2: 0.2,
    meanAPerM2: 0.1,
    finalAPerM2: 0.13,
    ...STEEL_NEAR_SURFACE,
  },
  {
    key: 'bare-steel-arctic',
    environment: 'arctic, below 7 C',
    initialAPerM2: 0.25,
    meanAPerM2: 0.12,
    finalAPerM2: 0.17,
    ...STEEL_NEAR_SURFACE,
  },
  {
    key: 'bare-steel-tropical-deep',
    metal: 'bare-steel',
    environment: 'tropical, above 20 C',
    depthM: [30, 100],
    initialAPerM2: 0.12,
    meanAPerM2: 0.06,
    finalAPerM2: 0.08,
    status: 'verified-in-part',
    sources: ['rp-b401', 'bracelet-sheet'],
    note: 'mean and final read',
  },
  {
    key: 'bare-steel-subtropical-deep',
    environment: 'subtropical, 12-20 C',
    initialAPerM2: 0.14,
    meanAPerM2: 0.07,
    finalAPerM2: 0.09,
    ...STEEL_DEEPER,
  },
  {
    key: 'bare-steel-temperate-deep',
    environment: 'temperate, 7-11 C',
    initialAPerM2: 0.17,
    meanAPerM2: 0.08,
    finalAPerM2: 0.11,
    ...STEEL_DEEPER,
  },
  {
    key: 'bare-steel-arctic-deep',
    environment: 'arctic, below 7 C',
    initialAPerM2: 0.2,
    meanAPerM2: 0.1,
    finalAPerM2: 0.13,
    ...STEEL_DEEPER,
  },
  {
    key: 'aluminium',
    metal: 'aluminium',
    environment: 'seawater, steady after about 200 days',
    meanAPerM2: 0.01,
    status: 'verified-in-part',
    sources: ['materials-and-corrosion-2024', 'rp-b401'],
    note: 'paper reports 0 to 0.020 A/m2; 0.010 of the practice from memory',
  },
  {
    key: 'bare-steel-harbour-water',
    metal: 'bare-steel',
    environment: 'harbour, MIL-HDBK-1004/10 example, in water',
    meanAPerM2: 0.0215,
    status: 'verified',
    sources: ['mil-hdbk-1004-10-p209'],
    note: '2 mA/ft2',
  },
  {
    key: 'bare-steel-harbour-mud',
    metal: 'bare-steel',
    environment: 'harbour, MIL-HDBK-1004/10 example, in mud',
    meanAPerM2: 0.0108,
    status: 'verified',
    sources: ['mil-hdbk-1004-10-p209'],
    note: '1 mA/ft2',
  },
  {
    key: 'coated-sheet-piling-harbour',
    metal: 'coated-sheet-piling',
    environment: 'harbour, MIL-HDBK-1004/10 example, in water',
    meanAPerM2: 0.0054,
    status: 'verified',
    sources: ['mil-hdbk-1004-10-p201'],
    note: '0.5 mA/ft2',
  },
  {
    key: 'painted-steel-hull',
    metal: 'painted-steel-hull',
    environment: 'small craft',
    initialAPerM2: 0.0538,
    meanAPerM2: 0.0323,
    status: 'verified-in-part',
    sources: ['study-guide-sheet'],
    note: 'printed as 1.5-5.0 mA/ft2; mean taken mid-range',
  },
  {
    key: 'painted-aluminium-hull',
    metal: 'painted-aluminium-hull',
    environment: 'small craft',
    initialAPerM2: 0.0323,
    meanAPerM2: 0.0108,
    status: 'verified-in-part',
    sources: ['study-guide-sheet'],
    note: 'printed as 0.2-3.0 mA/ft2; mean is a judgement',
  },
  {
    key: 'painted-steel-hull-well-coated',
    metal: 'painted-steel-hull',
    environment: 'at rest, well coated',
    meanAPerM2: 0.0161,
    ...TRADE_ESTIMATE,
  },
  {
    key: 'painted-steel-hull-old-coating',
    metal: 'painted-steel-hull',
    environment: 'at rest, poor or old coating',
    meanAPerM2: 0.0215,
    ...TRADE_ESTIMATE,
  },
  {
    key: 'bare-steel-at-rest',
    metal: 'bare-steel',
    environment: 'at rest, 0-0.5 mph',
    meanAPerM2: 0.0323,
    status: 'verified',
    sources: ['study-guide-sheet'],
    note: 'trade estimate; low beside the offshore tables',
  },
  {
    key: 'bare-steel-current-slow',
    metal: 'bare-steel',
    environment: 'current 0.5-2 mph',
    meanAPerM2: 0.1076,
    status: 'verified',
    sources: ['study-guide-sheet'],
    note: 'printed 5-15 mA/ft2',
  },
  {
    key: 'bare-steel-current-fast',
    metal: 'bare-steel',
    environment: 'current 2-5 mph',
    meanAPerM2: 0.2422,
    status: 'verified',
    sources: ['study-guide-sheet'],
    note: 'printed 15-30 mA/ft2',
  },
  {
    key: 'painted-aluminium-hull-well-coated',
    metal: 'painted-aluminium-hull',
    environment: 'at rest, well coated',
    meanAPerM2: 0.0054,
    ...TRADE_ESTIMATE,
  },
  {
    key: 'ship-hull-first-class-paint',
    environment: 'first-class paint, 15-20 mA/m2',
    meanAPerM2: 0.0175,
    ...SHIP_SHEET,
  },
  { key: 'ship-hull-old-paint', environment: 'old hull, 30 mA/m2', meanAPerM2: 0.03, ...SHIP_SHEET },
  {
    key: 'ship-hull-surveyors',
    metal: 'ship-hull-painted',
    environment: 'surveyors: about 35 mA/m2',
    meanAPerM2: 0.035,
    status: 'verified',
    sources: ['surveyors-report-2017'],
    note: '',
  },
  {
    key: 'ballast-tank-bare',
    metal: 'ballast-tank-bare',
    environment: '86-120 mA/m2',
    meanAPerM2: 0.108,
    ...TANK_PAGE,
  },
  {
    key: 'ballast-tank-coated',
    metal: 'ballast-tank-coated',
    environment: 'about 5 mA/m2',
    meanAPerM2: 0.005,
    ...TANK_PAGE,
  },
  {
    key: 'bronze-propeller',
    metal: 'bronze-propeller',
    environment: 'turning or in a current',
    initialAPerM2: 0.5,
    meanAPerM2: 0.15,
    finalAPerM2: 0.25,
    status: 'memory',
    sources: ['handbook-range'],
    note: 'handbook range 0.15-0.5 A/m2; wide: falls as films grow; use a log-normal prior with a factor of 3',
  },
  {
    key: 'bronze-fittings',
    metal: 'bronze-fittings',
    environment: 'at rest',
    initialAPerM2: 0.15,
    meanAPerM2: 0.06,
    finalAPerM2: 0.08,
    status: 'memory',
    sources: ['handbook-range'],
    note: 'copper alloys',
  },
  {
    key: 'stainless-shaft',
    metal: 'stainless-shaft',
    environment: 'at rest',
    initialAPerM2: 0.1,
    meanAPerM2: 0.05,
    finalAPerM2: 0.07,
    status: 'memory',
    sources: ['handbook-range'],
    note: 'handbook range 0.03-0.12 A/m2; stainless polarises readily once filmed',
  },
  {
    key: 'nickel-aluminium-bronze-propeller',
    metal: 'nickel-aluminium-bronze-propeller',
    environment: 'turning or in a current',
    initialAPerM2: 0.5,
    meanAPerM2: 0.15,
    finalAPerM2: 0.25,
    status: 'memory',
    sources: ['handbook-range'],
    note: '',
  },
] as const satisfies readonly CurrentDemandRow[]

export type CurrentDemandKey = (typeof ROWS)[number]['key']

/** Current densities by metal and surroundings, in seawater unless the row says otherwise. */
export const CURRENT_DEMAND: readonly (CurrentDemandRow & { readonly key: CurrentDemandKey })[] = ROWS

const ROW_OF_DEMAND = new Map(CURRENT_DEMAND.map((row) => [row.key, row]))

/** The row of one surface. */
export function currentDemand(key: CurrentDemandKey): CurrentDemandRow & { readonly key: CurrentDemandKey } {
  return ROW_OF_DEMAND.get(key)!
}
