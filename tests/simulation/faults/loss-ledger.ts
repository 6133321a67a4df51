import type { TrueAnode } from '../anode-life.js'
import type { Yard } from '../yard.js'

/** What an anode lost between two judgements of its mass, and what it would have lost if nothing were wrong. */
export interface NotedLoss {
  readonly anode: TrueAnode
  readonly from: number
  readonly to: number
  readonly lostG: number
  readonly healthyG: number
  /** Standard deviation of the difference of the two judgements [g]. */
  readonly sdG: number
}

interface Running {
  readonly from: number
  lostG: number
  /** The anode as it would be if nothing had been wrong since the last judgement. */
  readonly healthy: TrueAnode
}

/** A boat's losses, true and as they would have been, from judgement to judgement. */
export class LossLedger {
  readonly noted: NotedLoss[] = []
  readonly #running = new Map<TrueAnode, Running>()

  note(anode: TrueAnode, lostG: number): void {
    this.#of(anode).lostG += lostG
  }

  /** The anode as it would be if nothing had been wrong since the last judgement: whoever wears the one wears the other. */
  healthy(anode: TrueAnode): TrueAnode {
    return this.#of(anode).healthy
  }

  /** A judgement of the mass was written down. */
  judged(anode: TrueAnode, at: number, sdG: number): void {
    const { from, lostG, healthy } = this.#of(anode)
    const healthyG = anode.massG + lostG - healthy.massG
    this.noted.push({ anode, from, to: at, lostG, healthyG, sdG })
    this.#running.set(anode, { from: at, lostG: 0, healthy: { ...anode } })
  }

  #of(anode: TrueAnode): Running {
    const known = this.#running.get(anode)
    if (known !== undefined) return known
    const running = { from: anode.fittedAt, lostG: 0, healthy: { ...anode } }
    this.#running.set(anode, running)
    return running
  }
}

/** What one eye sees more or less than another, as a share of the new mass. */
const EYE_BIAS = 0.05

/** Standard deviation of the difference of two judgements, of which the second was made in this way [g]. */
export function judgementSd(yard: Yard, anode: TrueAnode, method: 'scale' | 'dimensions' | 'visual'): number {
  if (method === 'visual') return Math.hypot(yard.eyeSd, EYE_BIAS) * anode.netMassG
  if (method === 'dimensions') return yard.caliperSd * anode.massG
  const grossG = anode.massG + anode.coreMassG
  const rounding = yard.resolutionG / Math.sqrt(12)
  return Math.SQRT2 * Math.hypot(rounding, yard.repeatability * grossG, yard.residueShare * anode.massG)
}
