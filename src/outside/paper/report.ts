import type { BoatView } from '../../contract/boats.js'
import type { FindingItem } from '../../contract/findings.js'
import type { DepletionView } from '../../contract/forecasts.js'
import type { GalvanicAuditView } from '../../contract/galvanic.js'
import type { HaulOutView } from '../../contract/haul-outs.js'
import type { Alloy, WeighingMethod } from '../../contract/vocabulary.js'
import type { NextLift } from '../../presentation/next-lift.js'
import type { PaperCaution, PaperReading } from './paper-words.js'

/** One anode that was on the boat when it was hauled. */
export interface LiftedAnode {
  readonly anode: string
  readonly position: string
  readonly alloy: Alloy | null
  readonly shape: string | null
  /** Gross masses [g]; null where not known. */
  readonly fittedG: number | null
  readonly lastG: number | null
  readonly found: {
    readonly massG: number | null
    readonly method: WeighingMethod
    /** Of the net mass when new [–]. */
    readonly consumed: number | null
    readonly conditions: readonly string[]
  } | null
  readonly replacedBy: string | null
}

/** All that a haul-out report says, as the service answers it; the paper only sets it. */
export interface HaulOutReport {
  readonly organisation: string
  readonly boat: BoatView
  /** Null where no lift is on record yet. */
  readonly haulOut: HaulOutView | null
  readonly anodes: readonly LiftedAnode[]
  readonly findings: readonly FindingItem[]
  readonly depletion: DepletionView
  readonly nextLift: NextLift | null
  readonly audit: GalvanicAuditView
  readonly cautions: readonly PaperCaution[]
  /** How whoever asks for it likes to read. */
  readonly reading: PaperReading
  readonly madeAt: Date
}
