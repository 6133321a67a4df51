import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** Potentials between which a metal or a hull counts as protected. A missing limit means that none is known. */
export interface ProtectionCriterionRow {
  readonly metal: string
  readonly condition: string
  /** Protected at this potential or a more negative one [V]. */
  readonly protectedAtOrBelowV?: number
  /** Harm beyond this potential [V]. */
  readonly notBelowV?: number
  /** The electrode that the volts are against; `difference` for a shift or a difference of two potentials. */
  readonly reference?: 'ag-agcl-seawater' | 'difference'
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const ROWS = [
  {
    metal: 'carbon-steel',
    condition: 'aerated seawater',
    protectedAtOrBelowV: -0.8,
    notBelowV: -1.1,
    reference: 'ag-agcl-seawater',
    status: 'verified-in-part',
    sources: ['en-12473-page'],
    note: '-0.80 read; the -1.10 limit was read for the anaerobic row, here memory: for coated or high-strength parts; coatings may lift beyond it',
  },
  {
    metal: 'carbon-steel',
    condition: 'anaerobic, sulfate-reducing bacteria',
    protectedAtOrBelowV: -0.9,
    notBelowV: -1.1,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['en-12473-page', 'cp-notes'],
    note: '',
  },
  {
    metal: 'high-strength-steel',
    condition: 'yield above about 550-700 MPa',
    protectedAtOrBelowV: -0.8,
    notBelowV: -0.95,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['cp-notes'],
    note: 'hydrogen embrittlement; another page gives a window of -0.77 to -0.83 V',
  },
  {
    metal: 'stainless-pren-40-or-more',
    condition: 'seawater',
    protectedAtOrBelowV: -0.3,
    reference: 'ag-agcl-seawater',
    status: 'memory',
    sources: ['en-12473'],
    note: '',
  },
  {
    metal: 'stainless-pren-below-40',
    condition: '304, 316, 17-4; shafts',
    protectedAtOrBelowV: -0.5,
    reference: 'ag-agcl-seawater',
    status: 'memory',
    sources: ['en-12473'],
    note: 'duplex and martensitic grades: keep above about -1.05 V, hydrogen',
  },
  {
    metal: 'stainless',
    condition: 'small craft, shafts and props',
    protectedAtOrBelowV: -0.75,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: 'stricter than the offshore standard',
  },
  {
    metal: 'copper-alloys',
    condition: 'bronze, brass, cupronickel',
    protectedAtOrBelowV: -0.45,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['cp-notes'],
    note: 'range -0.45 to -0.60 in the notes read',
  },
  {
    metal: 'copper-alloys-with-aluminium',
    condition: 'aluminium bronzes',
    protectedAtOrBelowV: -0.45,
    notBelowV: -1.1,
    reference: 'ag-agcl-seawater',
    status: 'memory',
    sources: ['en-12473'],
    note: '',
  },
  {
    metal: 'bronze',
    condition: 'small craft',
    protectedAtOrBelowV: -0.55,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: 'free potential near -0.25 to -0.30, so this is about a 0.25 V shift',
  },
  {
    metal: 'aluminium-alloys',
    condition: '5xxx, 6xxx hulls and drives',
    protectedAtOrBelowV: -0.9,
    notBelowV: -1.1,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: 'alkaline attack beyond the limit; EN 12473 gives -1.15 (memory); damaged by too little and by too much',
  },
  {
    metal: 'hull-grp-inboard',
    condition: 'whole bonded hull',
    protectedAtOrBelowV: -0.75,
    notBelowV: -1,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: 'ABYC E-2 style table as a supplier prints it; E-2 itself from memory reaches -1.10',
  },
  {
    metal: 'hull-grp-aluminium-drive',
    condition: 'whole bonded hull',
    protectedAtOrBelowV: -0.9,
    notBelowV: -1.05,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: 'page prints "1050" without sign',
  },
  {
    metal: 'hull-aluminium',
    condition: 'whole bonded hull',
    protectedAtOrBelowV: -0.9,
    notBelowV: -1.1,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: '',
  },
  {
    metal: 'hull-steel',
    condition: 'whole bonded hull',
    protectedAtOrBelowV: -0.8,
    notBelowV: -1.05,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: 'page prints "1050" without sign',
  },
  {
    metal: 'hull-wood',
    condition: 'whole bonded hull',
    protectedAtOrBelowV: -0.55,
    notBelowV: -0.6,
    reference: 'ag-agcl-seawater',
    status: 'verified',
    sources: ['boat-voltages-page'],
    note: 'narrow window: alkali formed at the protected metal destroys the wood around it',
  },
  {
    metal: 'any-bonded-metal',
    condition: 'shift from the free potential without anodes',
    protectedAtOrBelowV: -0.2,
    reference: 'difference',
    status: 'verified',
    sources: ['troubleshooting-manual-p110', 'boat-voltages-page'],
    note: 'a negative shift of at least 200 mV; measure the free value with the anodes off',
  },
  {
    metal: 'wood-around-fasteners',
    condition: 'potential difference in wet timber',
    protectedAtOrBelowV: -0.35,
    notBelowV: -0.4,
    reference: 'difference',
    status: 'verified',
    sources: ['surveyor-note-wood'],
    note: 'one surveyor reports decay from about 350-400 mV on: an observation, not a standard',
  },
  {
    metal: 'magnesium-on-aluminium-or-wood',
    condition: 'salt or brackish water',
    status: 'verified',
    sources: ['troubleshooting-manual-p111'],
    note: 'not to be used: drives the hull beyond the limit',
  },
] as const satisfies readonly ProtectionCriterionRow[]

/** Protection criteria by metal and by hull. */
export const PROTECTION_CRITERIA: readonly ProtectionCriterionRow[] = ROWS
