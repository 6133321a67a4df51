import type { FleetFacts } from '../../engine/diagnosis/fleet-facts.js'
import type { PresentRates } from '../../engine/forecast/present-rate.js'
import type { RateModel } from '../../engine/rates/rate-model.js'
import { fleetOfKey } from './fit-key.js'

/** A fitted fleet with what questions about it need. */
export interface FittedFleet {
  readonly model: RateModel
  readonly present: PresentRates
  readonly facts: FleetFacts
}

/** In memory at once. Status: a choice; the last ones of ten fleets of 500 boats, or of two of 2,000. */
const MOST_BYTES = 256 * 2 ** 20
/**
 * What a fit takes for each mass of an anode in it, as fitted or as weighed, with all that hangs on them: by how much heap and buffers are
 * larger after it, once collected. Measured with 24 masses a boat: 1.9 kB at 500 boats, 2.3 kB at 2,000 (docs/scale.md).
 */
const BYTES_A_MASS = 2200
/** Of one fleet and day: the newest, and the one whose forecasts are told until those of the newest are stored. */
const MOST_OF_A_FLEET = 2

interface KeptFit {
  readonly fitted: FittedFleet
  readonly bytes: number
}

/** The fits that were used last, as many as fit into memory; the very last one however large it is. */
export class KeptFits {
  readonly #mostBytes: number
  /** In the order of their last use. */
  readonly #kept = new Map<string, KeptFit>()

  constructor(mostBytes = MOST_BYTES) {
    this.#mostBytes = mostBytes
  }

  get(key: string): FittedFleet | undefined {
    const kept = this.#kept.get(key)
    if (kept === undefined) return undefined
    this.#kept.delete(key)
    this.#kept.set(key, kept)
    return kept.fitted
  }

  keep(key: string, fitted: FittedFleet): void {
    this.#kept.delete(key)
    this.#kept.set(key, { fitted, bytes: bytesOf(fitted.model) })
    const ofFleet = [...this.#kept.keys()].filter((other) => fleetOfKey(other) === fleetOfKey(key))
    for (const superseded of ofFleet.slice(0, -MOST_OF_A_FLEET)) this.#kept.delete(superseded)
    let held = [...this.#kept.values()].reduce((sum, { bytes }) => sum + bytes, 0)
    for (const [other, { bytes }] of this.#kept) {
      if (held <= this.#mostBytes || other === key) return
      this.#kept.delete(other)
      held -= bytes
    }
  }
}

/** About what a fit takes of memory. */
export function bytesOf({ boats }: Pick<RateModel, 'boats'>): number {
  let masses = 0
  for (const { anodes } of boats) for (const { states } of anodes) masses += states.length
  return masses * BYTES_A_MASS
}
