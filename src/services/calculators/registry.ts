import { NotFound } from '../errors.js'
import type { Calculator } from './calculator.js'
import { depletionLawCalculator } from './depletion-law.js'
import {
  densityCalculator,
  electrodeCalculator,
  meanCurrentCalculator,
  theoreticalCapacityCalculator,
} from './electrochemistry.js'
import { coupleCalculator } from './galvanic.js'
import { massLineCalculator } from './mass-line.js'
import { mixedModelCalculator } from './mixed-model.js'
import { corrosionRateCalculator, seawaterCalculator } from './seawater.js'
import { sharesCalculator } from './shares.js'
import { anodeResistanceCalculator, requiredMassCalculator, sizingCalculator } from './sizing.js'

/** Every calculation that stands alone. An entry here is all it takes to appear as a command, a route and a page. */
export const CALCULATORS: readonly Calculator[] = [
  meanCurrentCalculator,
  theoreticalCapacityCalculator,
  requiredMassCalculator,
  anodeResistanceCalculator,
  sizingCalculator,
  seawaterCalculator,
  electrodeCalculator,
  corrosionRateCalculator,
  densityCalculator,
  coupleCalculator,
  depletionLawCalculator,
  massLineCalculator,
  sharesCalculator,
  mixedModelCalculator,
]

/**
 * The calculator of a name.
 *
 * @throws NotFound for any other name
 */
export function calculatorNamed(name: string): Calculator {
  const found = CALCULATORS.find((entry) => entry.name === name)
  if (found === undefined) throw new NotFound(`calculator "${name}"`)
  return found
}
