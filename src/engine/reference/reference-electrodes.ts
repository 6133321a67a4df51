import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** A reference electrode and its potential on the hydrogen scale at 25 °C. */
export interface ReferenceElectrodeRow {
  readonly key: string
  readonly name: string
  /** Potential used here [V against standard hydrogen], and the range that sources print. */
  readonly vShe: number
  readonly lowVShe: number
  readonly highVShe: number
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const ROWS = [
  {
    key: 'ag-agcl-seawater',
    name: 'Silver/silver chloride in seawater (35 psu)',
    vShe: 0.25,
    lowVShe: 0.25,
    highVShe: 0.256,
    status: 'memory',
    sources: ['en-12473'],
    note: 'falls by about 59 mV per decade of chloride',
  },
  {
    key: 'sce',
    name: 'Saturated calomel',
    vShe: 0.241,
    lowVShe: 0.241,
    highVShe: 0.244,
    status: 'verified',
    sources: ['int-j-corrosion-table-2', 'mp-reference-article'],
    note: '',
  },
  {
    key: 'cse',
    name: 'Saturated copper/copper sulfate',
    vShe: 0.316,
    lowVShe: 0.316,
    highVShe: 0.318,
    status: 'verified',
    sources: ['int-j-corrosion-table-2', 'mp-reference-article', 'reference-half-cells-page'],
    note: 'contaminated by chloride in seawater: re-check often',
  },
  {
    key: 'zinc',
    name: 'High-purity zinc in seawater',
    vShe: -0.78,
    lowVShe: -0.8,
    highVShe: -0.78,
    status: 'memory',
    sources: ['en-12473', 'sp0176-page'],
    note: 'a practical electrode, +/-20 to 30 mV; steel criterion +0.25 V verified (sp0176-page)',
  },
  {
    key: 'ag-agcl-sat-kcl',
    name: 'Silver/silver chloride in saturated KCl',
    vShe: 0.197,
    lowVShe: 0.197,
    highVShe: 0.199,
    status: 'verified',
    sources: ['int-j-corrosion-table-2', 'mp-reference-article'],
    note: '',
  },
  {
    key: 'she',
    name: 'Standard hydrogen',
    vShe: 0,
    lowVShe: 0,
    highVShe: 0,
    status: 'definition',
    sources: ['she-convention'],
    note: '',
  },
] as const satisfies readonly ReferenceElectrodeRow[]

export type PotentialScale = (typeof ROWS)[number]['key']

/** Every electrode whose potential is known, and the hydrogen scale itself. */
export const REFERENCE_ELECTRODE_ROWS: readonly (ReferenceElectrodeRow & { readonly key: PotentialScale })[] = ROWS

const ROW_OF_SCALE = new Map(REFERENCE_ELECTRODE_ROWS.map((row) => [row.key, row]))

/** The row of one electrode. */
export function referenceElectrode(key: PotentialScale): ReferenceElectrodeRow {
  return ROW_OF_SCALE.get(key)!
}
