/** How far an anomaly reaches: one anode, a boat's bonded anodes together, a berth's boats, a pontoon's boats. */
export const SCOPES = ['anode', 'boat', 'berth', 'pontoon'] as const
export type Scope = (typeof SCOPES)[number]

/** Wear, or a reading, that chance does not explain: what a finding is made of before its cause is weighed. */
export interface Anomaly {
  readonly scope: Scope
  /** The boat of an anode or a boat; `null` for a berth's or a pontoon's. */
  readonly boat: string | null
  readonly berth: string | null
  readonly pontoon: string | null
  /** Keys of the anodes that share in it, in order of the fleet. */
  readonly anodes: readonly string[]
  /** `other`: not seen in the rate, but in readings, codes or what is fitted. */
  readonly direction: 'fast' | 'slow' | 'other'
  /** By what it was noticed: one interval's surprise, a drift over several, or something other than mass. */
  readonly noticedBy: 'interval' | 'drift' | 'reading'
  /** Day numbers: the change began by then with that probability; `null` where it was so from the first day on. */
  readonly onset: { readonly p10: number; readonly p50: number; readonly p90: number } | null
  /** Standard normal score under the prediction made without its intervals: above 0 is faster. 0 for a reading. */
  readonly surprise: number
  /** Two-sided p-value adjusted over the batch (Benjamini–Hochberg); `null` where no rate was tested. */
  readonly adjustedP: number | null
  /** log of the rate since the onset over the rate predicted without it, with its standard deviation. */
  readonly logRatio: { readonly mean: number; readonly sd: number } | null
  /** What part of the surprise is shared at which level: adds to 1. */
  readonly shares: Readonly<Record<Scope, number>>
}
