import type { Scope } from '../../../src/engine/diagnosis/anomaly.js'
import type { Cause } from '../../../src/engine/diagnosis/causes.js'
import type { AnodeAlloy } from '../../../src/engine/reference/vocabulary.js'

/** What is wrong, and what it does. Days since the start of the simulation. */
export interface Fault {
  readonly cause: Cause
  /** [from, to): at a purchase after `from` where the fault is in what is bought; not before the boat's arrival. */
  readonly from: number
  readonly to: number
  /** Labels of the places of the boat that it concerns. */
  readonly places: readonly string[]
  /** Of the current, of an anode's contact, or of what is bought, by cause; of a broken anode what is left [–]. */
  readonly factor: number
  /** What was bought instead: declared so, but for an alloy not as declared. */
  readonly alloy: AnodeAlloy | null
  /** Share of the current that an anode keeps beside one of a more active alloy [–]. */
  readonly suppressed: number
  /** Bought again and again, where it is in what is bought. */
  readonly isRepeated: boolean
  /** Berths on which it acts; empty: everywhere. */
  readonly berths: readonly string[]
  /** Index of the group whose boats share it; `null` for one boat's own. */
  readonly group: number | null
}

/** A fault as it came to pass, for scoring. Day numbers. */
export interface FaultTruth {
  readonly cause: Cause
  /** How far it reaches; more than one where one cannot be told from the other, the most fitting first. */
  readonly scopes: readonly [Scope, ...Scope[]]
  readonly boats: readonly string[]
  /** Keys of the anodes that it acted on, and of those of the same boats meanwhile. */
  readonly anodes: readonly string[]
  readonly companions: readonly string[]
  readonly berths: readonly string[]
  readonly pontoon: string | null
  readonly from: number
  readonly to: number
  /** Where its own anodes' wear goes, and that of their companions. */
  readonly directions: readonly ('fast' | 'slow')[]
  /** Standard deviations of noise and weighing that its effect on the losses exceeds. */
  readonly strength: number
  readonly isVisible: boolean
}

/** Visible: what it did to the masses exceeds three standard deviations of what noise and weighing could do. */
export const VISIBLE_STRENGTH = 3
