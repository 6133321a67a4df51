import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Share of an anode's net mass that may be counted on before it no longer delivers its current. */
export interface AnodeUtilisationRow {
  readonly shape: string
  /** Utilisation factor [–]. */
  readonly utilisationFactor: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const ROWS = [
  {
    shape: 'long-slender-stand-off',
    utilisationFactor: 0.9,
    status: 'verified',
    sources: ['harbour-calculation', 'rp-b401'],
    note: 'L at least 4 r',
  },
  {
    shape: 'short-slender-stand-off',
    utilisationFactor: 0.85,
    status: 'memory',
    sources: ['rp-b401'],
    note: 'L less than 4 r',
  },
  {
    shape: 'long-flush-mounted',
    utilisationFactor: 0.85,
    status: 'memory',
    sources: ['rp-b401'],
    note: 'L at least 4 times width and thickness',
  },
  {
    shape: 'short-flush-bracelet-other',
    utilisationFactor: 0.8,
    status: 'verified',
    sources: ['bracelet-sheet', 'pipeline-report', 'rp-b401'],
    note: 'also shaft collars, discs, hub cones by analogy (assumption)',
  },
] as const satisfies readonly AnodeUtilisationRow[]

export type UtilisationShape = (typeof ROWS)[number]['shape']

/** Design utilisation factors by shape. */
export const ANODE_UTILISATION: readonly AnodeUtilisationRow[] = ROWS

/** The row of one shape. */
export function anodeUtilisation(shape: UtilisationShape): AnodeUtilisationRow {
  return ANODE_UTILISATION.find((row) => row.shape === shape)!
}
