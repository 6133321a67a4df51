import { OutOfRange } from '../errors.js'
import { type CorrosionRateUnit, corrosionRateConstant } from '../reference/corrosion-rate-constants.js'

/** A piece of metal weighed before and after. */
export interface MassLoss {
  /** Mass lost W, finite; negative where the piece gained by the error of the weighing [g]. */
  readonly massLossG: number
  /** Exposed surface A > 0 [cm²]. */
  readonly areaCm2: number
  /** Time in the water T > 0 [h]. */
  readonly hours: number
  /** Density D > 0 [g/cm³]. */
  readonly densityGPerCm3: number
}

/**
 * Mean corrosion rate from a mass loss.
 *
 *     rate = K·W / (A·T·D), times D where the unit is one of mass and area
 *
 * with K by unit from `CORROSION_RATE_CONSTANTS`. A mean over the whole surface: pits go deeper.
 *
 * @param loss mass loss, area, hours and density
 * @param unit unit of the rate; mm/year unless given
 * @returns rate [unit]
 * @throws OutOfRange outside the ranges of `MassLoss`
 * @see reference `astm-g1`, `astm-g31`
 * @example corrosionRate({ massLossG: 485, areaCm2: 645.16, hours: 8760, densityGPerCm3: 7.9 }) // 0.952
 */
export function corrosionRate(loss: MassLoss, unit: CorrosionRateUnit = 'mm/year'): number {
  const { massLossG, areaCm2, hours, densityGPerCm3 } = loss
  if (!Number.isFinite(massLossG)) throw new OutOfRange('mass loss', massLossG, 'a finite number of g')
  assertPositive('area', areaCm2, 'cm²')
  assertPositive('time in the water', hours, 'h')
  assertPositive('density', densityGPerCm3, 'g/cm³')
  const { k, timesDensity } = corrosionRateConstant(unit)
  const rate = ((k * massLossG) / areaCm2 / hours) * (timesDensity ? 1 : 1 / densityGPerCm3)
  if (Number.isFinite(rate)) return rate
  throw new OutOfRange('mass loss', massLossG, 'small enough for a finite rate')
}

function assertPositive(quantity: string, value: number, unit: string): void {
  if (!(value > 0 && value < Infinity)) throw new OutOfRange(quantity, value, `above 0 ${unit}`)
}
