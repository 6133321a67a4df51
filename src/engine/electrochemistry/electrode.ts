import { OutOfRange } from '../errors.js'
import { type PotentialScale, referenceElectrode } from '../reference/reference-electrodes.js'

/**
 * A potential measured against one reference electrode, as another would show it.
 *
 *     E(to) = E(from) + V_SHE(from) − V_SHE(to)
 *
 * At 25 °C and, for silver/silver chloride, in seawater of 35 psu; in fresher water that electrode itself drifts by about
 * 59 mV for each tenfold drop in chloride. A zinc electrode is good to 20–30 mV. Published equivalents of one criterion
 * differ from the strict conversion by up to 30 mV: compare with a margin.
 *
 * @param volts potential against `from`, finite [V]
 * @param from electrode of the measurement
 * @param to electrode of the answer
 * @returns potential against `to` [V]
 * @throws OutOfRange when the potential is not finite
 * @see reference `int-j-corrosion-table-2`, `mp-reference-article`, `en-12473`
 * @example convertPotential(-0.8, 'ag-agcl-seawater', 'cse') // -0.866
 */
export function convertPotential(volts: number, from: PotentialScale, to: PotentialScale): number {
  if (!Number.isFinite(volts)) throw new OutOfRange('potential', volts, 'a finite number of volts')
  return volts + (referenceElectrode(from).vShe - referenceElectrode(to).vShe)
}
