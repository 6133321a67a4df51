/** Waters a berth may lie in. */
export const WATERS = ['salt', 'brackish', 'fresh'] as const
export type Water = (typeof WATERS)[number]

/** Alloy families of sacrificial anodes; `anode-alloys.ts` has the rows behind each. */
export const ANODE_ALLOYS = ['zinc', 'aluminium', 'magnesium'] as const
export type AnodeAlloy = (typeof ANODE_ALLOYS)[number]

/** Reference electrodes that a potential is measured against at the dock. */
export const REFERENCE_ELECTRODES = ['ag-agcl-seawater', 'sce', 'cse', 'zinc'] as const
export type ReferenceElectrode = (typeof REFERENCE_ELECTRODES)[number]

/** Scales that a potential may be converted between: the electrodes of the dock and the hydrogen scale of the books. */
export const CONVERTIBLE_SCALES = [...REFERENCE_ELECTRODES, 'she'] as const
