import type { AnodeHistory } from '../../../../src/engine/rates/fleet-history.js'
import type { MassState, ObservedAnode } from '../../../../src/engine/rates/mass-states.js'

interface AnodeDraw extends Partial<Pick<AnodeHistory, 'key' | 'position' | 'fittedOn' | 'removedOn' | 'explained'>> {
  /** Net mass when new [g]. */
  readonly netMassG?: number
  /** Lost by its one weighing, after so many days in the water [g]. */
  readonly lossG?: number
  readonly days?: number
  /** Standard deviation of each mass [g]. */
  readonly errorG?: number
  readonly fromFitting?: boolean
}

const NO_DIMENSIONS = { lengthMm: null, widthMm: null, heightMm: null }

/** A zinc of constant current, due at half, weighed when fitted and once since. */
export function observedAnode(draw: AnodeDraw = {}): ObservedAnode {
  const { netMassG = 1000, lossG = 300, days = 365, errorG = 3, fromFitting = true, fittedOn = 0 } = draw
  const state = (exposureDays: number, consumption: number): MassState => ({
    on: (fittedOn ?? 0) + exposureDays,
    exposureDays,
    consumption,
    variance: errorG ** 2,
    spent: false,
  })
  return {
    history: {
      key: draw.key ?? 'Wren/shaft 1',
      anode: draw.key ?? 'shaft 1',
      position: draw.position ?? 'shaft',
      alloy: 'zinc',
      shape: null,
      fittedOn,
      removedOn: draw.removedOn ?? null,
      fittedGrossMassG: netMassG,
      coreMassG: 0,
      dimensions: NO_DIMENSIONS,
      threshold: 0.5,
      weighings: [],
      ...(draw.explained && { explained: draw.explained }),
    },
    fitted: {
      netMassG,
      coreMassG: 0,
      coreSdG: 0,
      newSdG: 0,
      alloy: 'zinc',
      shape: null,
      dimensions: NO_DIMENSIONS,
    },
    exponent: 0,
    fromFitting,
    states: [state(0, 0), state(days, lossG)],
  }
}
