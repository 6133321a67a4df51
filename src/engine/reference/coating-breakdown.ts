import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

export type CoatingCategory = 'I' | 'II' | 'III'

/** How fast a coating lets current through: breakdown factor f(t) = a + b·t, t in years, at most 1. */
export interface CoatingBreakdownRow {
  readonly category: CoatingCategory
  readonly coating: string
  /** Depth of water [m]. */
  readonly depth: '0-30' | 'above 30'
  /** Fraction of the bare current when new [–]. */
  readonly a: number
  /** Growth of that fraction [1/year]. */
  readonly bPerYear: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const ROWS = [
  {
    category: 'I',
    coating: 'one layer epoxy, 20 um or more',
    depth: '0-30',
    a: 0.1,
    bPerYear: 0.1,
    status: 'verified',
    sources: ['harbour-calculation', 'rp-b401'],
    note: '',
  },
  {
    category: 'I',
    coating: 'one layer epoxy, 20 um or more',
    depth: 'above 30',
    a: 0.1,
    bPerYear: 0.05,
    status: 'memory',
    sources: ['rp-b401'],
    note: '',
  },
  {
    category: 'II',
    coating: 'one or more layers, 250 um or more',
    depth: '0-30',
    a: 0.05,
    bPerYear: 0.025,
    status: 'memory',
    sources: ['rp-b401'],
    note: '',
  },
  {
    category: 'II',
    coating: 'one or more layers, 250 um or more',
    depth: 'above 30',
    a: 0.05,
    bPerYear: 0.015,
    status: 'memory',
    sources: ['rp-b401'],
    note: '',
  },
  {
    category: 'III',
    coating: 'two or more layers, 350 um or more',
    depth: '0-30',
    a: 0.02,
    bPerYear: 0.012,
    status: 'memory',
    sources: ['rp-b401'],
    note: '',
  },
  {
    category: 'III',
    coating: 'two or more layers, 350 um or more',
    depth: 'above 30',
    a: 0.02,
    bPerYear: 0.008,
    status: 'verified',
    sources: ['bracelet-sheet', 'rp-b401'],
    note: '',
  },
] as const satisfies readonly CoatingBreakdownRow[]

/** Coating breakdown by category and depth. */
export const COATING_BREAKDOWN: readonly CoatingBreakdownRow[] = ROWS

/** The row of a coating category near the surface (0–30 m), where boats float. */
export function coatingNearSurface(category: CoatingCategory): CoatingBreakdownRow {
  return COATING_BREAKDOWN.find((row) => row.category === category && row.depth === '0-30')!
}
