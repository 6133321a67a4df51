import { OutOfRange } from '../errors.js'

/**
 * Exponent of the depletion law taken when the data say nothing: constant current, the usual design assumption.
 * Source: DNV-RP-B401 sizes by mean current over the design life (see `required net mass` there); common practice.
 */
export const CONSTANT_CURRENT_EXPONENT = 0

/**
 * Consumption coordinate between two net masses of one anode: the quantity that grows in proportion to exposure.
 *
 *     dm/dt = −k·(m/m₀)^q   ⇒   u = ∫k dt
 *     q ≠ 1:  u = m₀/(1−q)·[(m₁/m₀)^(1−q) − (m₂/m₀)^(1−q)]
 *     q = 1:  u = m₀·ln(m₁/m₂)
 *
 * q = 0 is constant current, 2/3 current in proportion to the exposed surface, 1 exponential. A later mass above the
 * earlier one gives a negative u: a weighing error is an observation too. Limits: q = 1 is approached smoothly; for
 * q ≥ 1 an anode never reaches zero, and u → ∞ as m₂ → 0.
 *
 * @param fittedNetG net mass when fitted m₀ > 0 [g]
 * @param fromNetG earlier net mass m₁ [g], ≥ 0 (> 0 for q ≥ 1)
 * @param toNetG later net mass m₂ [g], ≥ 0 (> 0 for q ≥ 1)
 * @param exponent q ≥ 0 [–]
 * @returns u [g]
 * @throws OutOfRange outside those ranges
 * @see docs/model.md, section "Depletion law"
 * @example consumptionCoordinate(1000, 1000, 600, 0) // 400
 */
export function consumptionCoordinate(
  fittedNetG: number,
  fromNetG: number,
  toNetG: number,
  exponent: number = CONSTANT_CURRENT_EXPONENT,
): number {
  requireLaw(fittedNetG, exponent)
  requireMass('earlier net mass', fromNetG, exponent)
  requireMass('later net mass', toNetG, exponent)
  if (exponent === 0) return fromNetG - toNetG
  return fittedNetG * (primitive(fromNetG / fittedNetG, exponent) - primitive(toNetG / fittedNetG, exponent))
}

/**
 * The net mass left after a consumption: the inverse of `consumptionCoordinate`. Never below zero: an anode that is
 * used up stays so.
 *
 * @param fittedNetG net mass when fitted m₀ > 0 [g]
 * @param fromNetG net mass now m₁ [g]
 * @param consumption u from now on [g]; negative runs backwards
 * @param exponent q ≥ 0 [–]
 * @returns net mass m₂ ≥ 0 [g]
 * @throws OutOfRange outside those ranges
 * @example netMassAfter(1000, 1000, 400, 0) // 600
 */
export function netMassAfter(
  fittedNetG: number,
  fromNetG: number,
  consumption: number,
  exponent: number = CONSTANT_CURRENT_EXPONENT,
): number {
  requireLaw(fittedNetG, exponent)
  requireMass('net mass', fromNetG, exponent)
  if (exponent === 0) return Math.max(0, fromNetG - consumption)
  return fittedNetG * fromPrimitive(primitive(fromNetG / fittedNetG, exponent) - consumption / fittedNetG, exponent)
}

/** F(x) with F′(x) = x^(−q) and F(1) = 0; `expm1` keeps the digits where q is near 1. */
function primitive(fraction: number, exponent: number): number {
  if (exponent === 1) return Math.log(fraction)
  if (fraction === 0) return -1 / (1 - exponent)
  return Math.expm1((1 - exponent) * Math.log(fraction)) / (1 - exponent)
}

function fromPrimitive(value: number, exponent: number): number {
  if (exponent === 1) return Math.exp(value)
  const inner = (1 - exponent) * value
  return inner <= -1 ? 0 : Math.exp(Math.log1p(inner) / (1 - exponent))
}

function requireLaw(fittedNetG: number, exponent: number): void {
  if (!(fittedNetG > 0 && fittedNetG < Infinity)) throw new OutOfRange('fitted net mass', fittedNetG, 'above 0 g')
  if (!(exponent >= 0 && exponent < Infinity)) throw new OutOfRange('depletion exponent', exponent, 'at least 0')
}

function requireMass(what: string, netG: number, exponent: number): void {
  const allowed = exponent < 1 ? netG >= 0 : netG > 0
  // With constant current the coordinate is linear, and a mass read below the core by error is still an observation.
  if (exponent === 0 ? !Number.isFinite(netG) : !(allowed && netG < Infinity))
    throw new OutOfRange(what, netG, exponent < 1 ? 'at least 0 g' : 'above 0 g')
}
