import type { Said, ValuesOf } from '../said.js'

/**
 * What reasons are made of: the sentences of a couple, of an alloy's protection, of a limit, of a reading. Potentials and differences
 * [V], against silver/silver chloride in seawater where they are potentials; `times` and `inverse` are ratios of areas [–]; `fittings`
 * are names, `metal`, `cathode` and `anode` keys of the series.
 */
export const REASON_CODES = {
  'pair/same-metal': ['metal'],
  'pair/overlap': ['cathode', 'anode', 'high'],
  'pair/apart': ['cathode', 'anode', 'low', 'high', 'middle'],
  'areas/not-asked': ['limit'],
  'areas/not-counted': ['grade'],
  'areas/open': ['grade', 'best', 'worst'],
  'areas/worse': ['times'],
  'areas/better': ['inverse'],
  'areas/larger-cathode': ['times'],
  'areas/larger-anode': ['inverse'],
  'areas/painted': [],
  'pair/sacrificial': ['metal'],
  'water/not-known': [],
  'water/fresh': [],
  'bond/not-recorded': ['fittings'],
  'bond/if-bonded': ['grade'],
  'protection/unsuited-zinc': ['water'],
  'protection/unsuited-aluminium': ['water'],
  'protection/unsuited-magnesium': ['water'],
  'protection/nothing-to-protect': [],
  'protection/in-hand': ['metal', 'asked', 'given', 'margin'],
  'protection/too-little': ['metal', 'asked', 'given', 'margin'],
  'protection/water-not-known': [],
  'protection/limited-zinc': ['water'],
  'protection/limited-aluminium': ['water'],
  'protection/limited-magnesium': ['water'],
  'limit/of-hull': ['hull', 'limit'],
  'limit/of-metal': ['metal', 'limit'],
  'limit/within': ['alloy', 'given'],
  'limit/possible': ['alloy', 'given'],
  'limit/forbidden': ['given', 'water'],
  'reading/no-reference': [],
  'reading/sign-in-doubt': [],
  'reading/fresh': [],
  'reading/no-criterion': [],
  'reading/under-protected': ['read', 'asked'],
  'reading/over-protected': ['read', 'limit'],
  'reading/protected': ['read', 'asked'],
} as const

export type ReasonCode = keyof typeof REASON_CODES
export type Reason = Said<ReasonCode>

/** One sentence of a reason. */
export function because<Code extends ReasonCode>(code: Code, values: ValuesOf<typeof REASON_CODES, Code>): Reason {
  return { code, values }
}
