import type { CurrentDemandKey } from './current-demand.js'
import type { MetalGroup } from './galvanic-series.js'
import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Whether water streams over a fitting (a propeller turning, a mooring in a current) or stands still at it. */
export type FittingUse = 'turning' | 'at-rest'

/** Which row of the current densities stands for a group of metals on a boat. */
export interface FittingDemandRow {
  readonly group: MetalGroup
  readonly bareAtRest: CurrentDemandKey
  readonly bareTurning: CurrentDemandKey
  /** Row of the painted surface; without one, the bare row times the coating's breakdown factor. */
  readonly painted?: CurrentDemandKey
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/** Rows for the metals that are protected on a boat. Groups not listed have no published demand that fits. */
export const FITTING_DEMAND = [
  {
    group: 'copper',
    bareAtRest: 'bronze-fittings',
    bareTurning: 'bronze-propeller',
    status: 'assumed',
    sources: ['this-project'],
    note: 'bronzes, brasses and cupronickels alike',
  },
  {
    group: 'stainless',
    bareAtRest: 'stainless-shaft',
    bareTurning: 'stainless-shaft',
    status: 'assumed',
    sources: ['this-project'],
    note: 'passive and active alike: protected, the metal is filmed',
  },
  {
    group: 'nickel',
    bareAtRest: 'stainless-shaft',
    bareTurning: 'stainless-shaft',
    status: 'assumed',
    sources: ['this-project'],
    note: 'by analogy: nickel alloys serve as shafts and film over too',
  },
  {
    group: 'iron',
    bareAtRest: 'bare-steel-temperate',
    bareTurning: 'bare-steel-temperate',
    painted: 'painted-steel-hull',
    status: 'assumed',
    sources: ['this-project'],
    note: 'steels and cast irons alike; temperate water, as nothing is known of the berth yet',
  },
  {
    group: 'aluminium',
    bareAtRest: 'aluminium',
    bareTurning: 'aluminium',
    painted: 'painted-aluminium-hull',
    status: 'assumed',
    sources: ['this-project'],
    note: 'hulls, drives and castings alike',
  },
] as const satisfies readonly FittingDemandRow[]

/** Groups that are themselves eaten before the metals they touch, so they ask for no current. */
export const SACRIFICIAL_GROUPS: readonly MetalGroup[] = ['zinc', 'magnesium', 'cadmium']

/** How uncertain a current from areas and current densities is, as a factor up or down. */
export const DEMAND_SPREAD = {
  factor: 3,
  unit: '–',
  status: 'memory',
  sources: ['handbook-range'],
  note: 'given for propellers (0.15 to 0.5 A/m2 and less as films grow); taken for every fitting, as one standard deviation of the logarithm, and as common to a boat: both assumptions',
} as const satisfies { factor: number; unit: string; status: Status; sources: readonly SourceKey[]; note: string }

/** How old a boat's paint is taken to be where nothing is said. */
export const COATING_RENEWAL = {
  years: 1,
  status: 'common practice',
  sources: ['boating-practice'],
  note: 'antifouling is renewed about yearly',
} as const satisfies { years: number; status: Status; sources: readonly SourceKey[]; note: string }
