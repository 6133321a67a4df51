import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** An element as it dissolves: its molar mass and the electrons each atom gives up. */
export interface ElementRow {
  readonly key: string
  readonly molarMassGPerMol: number
  readonly valence: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const ROWS = [
  {
    key: 'zinc',
    molarMassGPerMol: 65.38,
    valence: 2,
    status: 'memory',
    sources: ['iupac-atomic-weights', 'astm-g102'],
    note: '',
  },
  {
    key: 'aluminium',
    molarMassGPerMol: 26.9815,
    valence: 3,
    status: 'memory',
    sources: ['iupac-atomic-weights', 'astm-g102'],
    note: '',
  },
  {
    key: 'magnesium',
    molarMassGPerMol: 24.305,
    valence: 2,
    status: 'memory',
    sources: ['iupac-atomic-weights', 'astm-g102'],
    note: '',
  },
  {
    key: 'manganese',
    molarMassGPerMol: 54.938,
    valence: 2,
    status: 'memory',
    sources: ['iupac-atomic-weights'],
    note: 'alloyed with magnesium',
  },
] as const satisfies readonly ElementRow[]

export type ElementKey = (typeof ROWS)[number]['key']

/** The elements that anode alloys consist of. */
export const ELEMENTS: readonly (ElementRow & { readonly key: ElementKey })[] = ROWS

/** The row of one element. */
export function element(key: ElementKey): ElementRow {
  return ELEMENTS.find((row) => row.key === key)!
}
