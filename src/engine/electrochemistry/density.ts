import { OutOfRange } from '../errors.js'
import { ANODE_ALLOY_ROWS, type AnodeAlloyKey, familyOfAlloyRow } from '../reference/anode-alloys.js'
import { metalDensity } from '../reference/metal-densities.js'
import { ANODE_ALLOYS, type AnodeAlloy } from '../reference/vocabulary.js'
import { waterDensities } from '../reference/water-densities.js'

const KG_PER_M3_IN_G_PER_CM3 = 1000

/** A value with its standard uncertainty, in one unit. */
export interface Uncertain {
  readonly value: number
  readonly sd: number
}

/** One anode weighed dry and hanging in water. */
export interface SubmergedWeighing {
  /** Mass shown in air, core included [g]. */
  readonly dryG: number
  /** Mass shown while it hangs under water, core included [g]. */
  readonly submergedG: number
  /** Density of the water [g/cm³]. */
  readonly water: Uncertain
  /** Steel core and fasteners weighed along [g]. */
  readonly coreMassG: number
  /** Smallest step of the scale [g]. */
  readonly resolutionG: number
}

/** Probability that an anode is of an alloy. */
export interface AlloyProbability {
  readonly alloy: AnodeAlloy
  readonly probability: number
}

/**
 * Density of the anode's metal from its dry and its submerged mass (Archimedes), its steel core taken off.
 *
 *     ρ = (m − m_c) / V,  V = (m − m_s)/ρ_w − m_c/ρ_c
 *
 * with m dry, m_s submerged, m_c core mass, ρ_w water, ρ_c = 7.86 g/cm³ (mild steel, assumed for every core). The standard
 * deviation is that of the first-order propagation of two readings (a scale's step d spreads as d/√12), of the water's
 * density and of the core's (a quarter of its range). Bubbles and crust lower the result and are not in it.
 *
 * @returns density and its standard deviation [g/cm³]
 * @throws OutOfRange for masses that are not positive, a submerged mass not below the dry one, or a core as large as the anode
 * @see reference `cci-notes-9-10`, `gum-f-2-2-1`
 * @example metalDensityOf({ dryG: 500, submergedG: 428.2, water: { value: 1.0247, sd: 0 }, coreMassG: 0, resolutionG: 0 }).value // 7.136
 */
export function metalDensityOf(weighing: SubmergedWeighing): Uncertain {
  assertWeighable(weighing)
  const { dryG, submergedG, coreMassG, resolutionG, water } = weighing
  const core = metalDensity('mild-steel')
  const netG = dryG - coreMassG
  const displacedG = dryG - submergedG
  const volumeCm3 = displacedG / water.value - coreMassG / core.typicalGPerCm3
  if (!(volumeCm3 > 0)) throw new OutOfRange('core mass', coreMassG, 'small enough to leave a volume of anode metal')

  const density = netG / volumeCm3
  const readingSdG = resolutionG / Math.sqrt(12)
  const bySubmerged = density / (volumeCm3 * water.value)
  const byDry = 1 / volumeCm3 - bySubmerged
  const byWater = (density * displacedG) / (volumeCm3 * water.value ** 2)
  const byCore = (density * coreMassG) / (volumeCm3 * core.typicalGPerCm3 ** 2)
  const coreSd = quarterOfRange(core.lowGPerCm3, core.highGPerCm3)
  const sd = Math.hypot(byDry * readingSdG, bySubmerged * readingSdG, byWater * water.sd, byCore * coreSd)
  return { value: density, sd }
}

/**
 * Density of the water that an anode was hung in, where only its kind is known: the value at 15 °C (35 psu for salt), with
 * the spread of a temperature anywhere between the table's 5 and 25 °C taken as rectangular.
 *
 * @returns density and standard deviation [g/cm³]
 * @see reference `unesco-44`
 * @example waterDensityOf('fresh').value // 0.999102
 */
export function waterDensityOf(water: 'salt' | 'fresh'): Uncertain {
  const rows = waterDensities(water)
  const densities = rows.map((row) => row.densityKgPerM3)
  const typical = rows.find((row) => row.temperatureC === 15)!.densityKgPerM3
  const range = Math.max(...densities) - Math.min(...densities)
  return { value: typical / KG_PER_M3_IN_G_PER_CM3, sd: range / Math.sqrt(12) / KG_PER_M3_IN_G_PER_CM3 }
}

/** Grades that stand for a family in the comparison, equally likely within it: each with its own density range. */
const GRADES: readonly AnodeAlloyKey[] = ['zinc', 'aluminium', 'magnesium-az63', 'magnesium-high-potential']

/**
 * Which anode alloy a measured density speaks for. Bayes' rule over the families, each equally likely beforehand:
 *
 *     p(family | ρ) ∝ mean over its grades of Normal(ρ; typical density, √(s_g² + sd²))
 *
 * where s_g is a quarter of the grade's density range (range = ±2 standard deviations, an assumption) and sd the weighing's.
 * Probabilities are *among the anode alloys*: a metal that is none of them is still given to the nearest, so look at
 * `sdsFromNearestAlloy` first.
 *
 * @param density measured density and its standard deviation [g/cm³]
 * @returns all families, most probable first; the probabilities sum to 1
 * @throws OutOfRange for a density that is not positive or a negative standard deviation
 * @see reference `public-density-tables`
 * @example alloyProbabilities({ value: 7.14, sd: 0.05 })[0] // { alloy: 'zinc', probability: 1 }
 */
export function alloyProbabilities(density: Uncertain): readonly AlloyProbability[] {
  const grades = compareWithGrades(density)
  const best = Math.max(...grades.map((grade) => grade.logLikelihood))
  const weights = ANODE_ALLOYS.map((alloy) => {
    const own = grades.filter((grade) => grade.alloy === alloy)
    const weight = own.reduce((sum, grade) => sum + Math.exp(grade.logLikelihood - best), 0) / own.length
    return { alloy, weight }
  })
  const total = weights.reduce((sum, { weight }) => sum + weight, 0)
  return weights
    .map(({ alloy, weight }) => ({ alloy, probability: weight / total }))
    .sort((a, b) => b.probability - a.probability)
}

/**
 * How many standard deviations a measured density lies from the nearest grade of anode alloy. Beyond about 3 it is likely
 * none of them, or the weighing is wrong (bubbles, crust, a core not taken off).
 *
 * @param density measured density and its standard deviation [g/cm³]
 * @returns distance [–]
 * @throws OutOfRange as `alloyProbabilities`
 * @see reference `public-density-tables`
 * @example sdsFromNearestAlloy({ value: 5, sd: 0.05 }) // 37 or so: no anode alloy
 */
export function sdsFromNearestAlloy(density: Uncertain): number {
  return Math.min(...compareWithGrades(density).map((grade) => Math.abs(grade.distance)))
}

function compareWithGrades(density: Uncertain) {
  if (!(density.value > 0 && density.value < Infinity)) throw new OutOfRange('density', density.value, 'above 0 g/cm³')
  if (!(density.sd >= 0 && density.sd < Infinity)) {
    throw new OutOfRange('standard deviation', density.sd, 'at least 0 g/cm³')
  }
  return GRADES.map((key) => {
    const row = ANODE_ALLOY_ROWS.find((candidate) => candidate.key === key)!
    const spread = Math.hypot(quarterOfRange(row.densityLowGPerCm3, row.densityHighGPerCm3), density.sd)
    const distance = (density.value - row.densityGPerCm3) / spread
    return { alloy: familyOfAlloyRow(key), distance, logLikelihood: -0.5 * distance ** 2 - Math.log(spread) }
  })
}

function quarterOfRange(low: number, high: number): number {
  return (high - low) / 4
}

function assertWeighable({ dryG, submergedG, coreMassG, resolutionG, water }: SubmergedWeighing): void {
  if (!(dryG > 0 && dryG < Infinity)) throw new OutOfRange('dry mass', dryG, 'above 0 g')
  if (!(submergedG >= 0 && submergedG < dryG)) {
    throw new OutOfRange('submerged mass', submergedG, 'at least 0 g and below the dry mass')
  }
  if (!(coreMassG >= 0 && coreMassG < dryG)) {
    throw new OutOfRange('core mass', coreMassG, 'at least 0 g and below the dry mass')
  }
  if (!(resolutionG >= 0 && resolutionG < Infinity)) throw new OutOfRange('resolution', resolutionG, 'at least 0 g')
  if (!(water.value > 0 && water.value < Infinity)) throw new OutOfRange('water density', water.value, 'above 0 g/cm³')
  if (!(water.sd >= 0 && water.sd < Infinity))
    throw new OutOfRange('water density spread', water.sd, 'at least 0 g/cm³')
}
