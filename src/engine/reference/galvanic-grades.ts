import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** How much a pair of connected metals is to be worried about, best first. */
export const PAIR_GRADES = ['compatible', 'fair', 'poor', 'severe'] as const
export type PairGrade = (typeof PAIR_GRADES)[number]

interface Sourced {
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/** A grade by the difference of potential alone. */
export interface PotentialStepRow extends Sourced {
  readonly key: string
  readonly grade: PairGrade
  /** Largest difference between the middles of the two ranges [V]. Without one: any larger difference. */
  readonly upToV?: number
}

const PAGES = { sources: ['anodic-index-pages'] } as const
const MILDER_LIMIT = 'printed as the limit of milder surroundings; taken as a step of the grade in water: an assumption'

/** Grades by potential, best first; the steps are published limits, put to use as steps here. */
export const POTENTIAL_STEPS = [
  {
    key: 'salt-water-limit',
    grade: 'compatible',
    upToV: 0.15,
    status: 'verified',
    ...PAGES,
    note: 'limit printed for harsh surroundings, salt among them',
  },
  { key: 'indoor-limit', grade: 'fair', upToV: 0.25, status: 'assumed', ...PAGES, note: MILDER_LIMIT },
  { key: 'dry-limit', grade: 'poor', upToV: 0.5, status: 'assumed', ...PAGES, note: MILDER_LIMIT },
  {
    key: 'beyond',
    grade: 'severe',
    status: 'assumed',
    ...PAGES,
    note: 'beyond what is tolerated even in dry, heated rooms',
  },
] as const satisfies readonly PotentialStepRow[]

/** How the areas move a grade: steps towards severe are positive. */
export interface AreaStepRow extends Sourced {
  readonly key: string
  /** Exposed area of the cathode over that of the anode from which, or up to which, the row counts [–]. */
  readonly ratioFrom?: number
  readonly ratioUpTo?: number
  readonly steps: number
}

/** Area steps, the most telling first. */
export const AREA_STEPS = [
  {
    key: 'large-cathode',
    ratioFrom: 10,
    steps: 1,
    status: 'assumed',
    sources: ['mil-std-1250-page', 'this-project'],
    note: 'that a small anode by a large cathode is attacked the more, about in proportion, was read; ten as the limit is common practice, from memory',
  },
  {
    key: 'hundredfold-anode',
    ratioUpTo: 0.01,
    steps: -2,
    status: 'verified',
    sources: ['area-ratio-note'],
    note: 'an anode a hundred times larger or more prevents or at least minimises the attack',
  },
  {
    key: 'large-anode',
    ratioUpTo: 0.1,
    steps: -1,
    status: 'assumed',
    sources: ['mil-std-1250-page', 'this-project'],
    note: 'the same the other way round',
  },
] as const satisfies readonly AreaStepRow[]

interface AuditFigure extends Sourced {
  readonly value: number
  readonly unit: string
}

/** Single figures of the galvanic audit. */
export const GALVANIC_AUDIT_FIGURES = {
  /** An anode with less than this in hand over what a metal asks for protects it barely. */
  protectionMargin: {
    value: 0.05,
    unit: 'V',
    status: 'assumed',
    sources: ['this-project'],
    note: 'specifications give the same anode alloy potentials up to 0.05 V apart, and published equivalents of one criterion differ by 0.03 V',
  },
  /** What areas under water are taken for real: from a square millimetre to ten hectares. */
  leastArea: { value: 0.01, unit: 'cm²', status: 'assumed', sources: ['this-project'], note: 'a square millimetre' },
  mostArea: { value: 1e9, unit: 'cm²', status: 'assumed', sources: ['this-project'], note: 'ten hectares' },
  /** Two parts with at most this between them count as connected. */
  connectedUpTo: {
    value: 1,
    unit: 'ohm',
    status: 'memory',
    sources: ['abyc-e-2'],
    note: 'the old figure of the boat standard for bonding',
  },
} as const satisfies Readonly<Record<string, AuditFigure>>
