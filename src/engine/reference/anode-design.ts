import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

interface DesignFigure {
  readonly value: number
  readonly unit: string
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const RESISTANCE_READ = { status: 'verified', sources: ['anode-r-note', 'rp-b401'] } as const
const DEPLETION_RECALLED = { status: 'memory', sources: ['rp-b401'] } as const

/** The figures in the relations that anodes are sized with; the formulas themselves are in `engine/sizing`. */
export const ANODE_DESIGN = {
  /** A year of 365 days, as the design practices count it. */
  hoursPerYear: {
    value: 8760,
    unit: 'h',
    status: 'verified',
    sources: ['pipeline-report', 'harbour-calculation', 'rp-b401'],
    note: '',
  },
  /** A rod is slender from this length over its radius on. */
  slenderFromLengthPerRadius: { value: 4, unit: '–', ...RESISTANCE_READ, note: '' },
  /** A plate counts as long from this length over its width and its thickness on. */
  longFromLengthPerWidth: { value: 4, unit: '–', ...RESISTANCE_READ, note: '' },
  /** Factor of the resistivity over the root of the exposed area, of plates, bracelets, discs and collars. */
  mccoyFactor: {
    value: 0.315,
    unit: '–',
    status: 'verified',
    sources: ['anode-r-note', 'pipeline-report'],
    note: 'with the root: one public test suite leaves it out',
  },
  /** From here on a rod counts as clear of the metal. */
  clearFromM: { value: 0.3, unit: 'm', ...RESISTANCE_READ, note: '' },
  /** Closer than this it is a flush anode. */
  flushBelowM: { value: 0.15, unit: 'm', ...RESISTANCE_READ, note: '' },
  /** What a rod's resistance is multiplied by between those distances. */
  nearFactor: { value: 1.3, unit: '–', ...RESISTANCE_READ, note: '' },
  /** Share of its length that a slender or long anode keeps once used up. */
  lengthKeptWhenDepleted: { value: 0.9, unit: '–', ...DEPLETION_RECALLED, note: 'section 7.9' },
  /** Potential of protected steel that the driving voltage is counted from, against silver/silver chloride in seawater. */
  protectedPotential: {
    value: -0.8,
    unit: 'V',
    status: 'verified',
    sources: ['harbour-calculation', 'rp-b401', 'en-12473-page'],
    note: 'with an aluminium anode of -1.05 V the design driving voltage is 0.25 V',
  },
} as const satisfies Readonly<Record<string, DesignFigure>>
