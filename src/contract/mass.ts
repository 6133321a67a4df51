import { z } from 'zod'
import { gramsOf } from './grams.js'
import { MASS_UNITS } from './vocabulary.js'

/**
 * Bounds of what a scale at a dock is read to, in grams: a milligram and ten tonnes. They only keep slips and numbers
 * that no sum survives out; whether a mass is plausible is judged beside its anode.
 */
const LIGHTEST_G = 0.001
const HEAVIEST_G = 1e7

function mass(lightestG: number, bounds: string) {
  const error = `must be a mass ${bounds}: a number of grams, or { "value": 1.2, "unit": "kg" } with g, kg, lb or oz`
  const amount = z.number().nonnegative()
  return z
    .union([amount, z.strictObject({ value: amount, unit: z.enum(MASS_UNITS) })], { error })
    .transform((given) => (typeof given === 'number' ? given : gramsOf(given.value, given.unit)))
    .refine((grams) => grams >= lightestG && grams <= HEAVIEST_G, { error })
}

const DESCRIPTION = 'A number of grams, or a value with its unit (`g`, `kg`, `lb`, `oz`), converted to grams once'

/** A mass in a request, above nothing: grams once parsed. Never parse the result again. */
export const MassG = mass(LIGHTEST_G, 'above 0 and up to 10000 kg').meta({
  id: 'Mass',
  description: DESCRIPTION,
  examples: [1200, { value: 1.2, unit: 'kg' }],
})

/** As `MassG`, where nothing is a sound answer: a core that is not there, an anode that floats. */
export const MassGOrZero = mass(0, 'of 0 or more and up to 10000 kg').meta({
  id: 'MassOrZero',
  description: DESCRIPTION,
  examples: [80, { value: 3, unit: 'oz' }],
})

/** Bounds of what calipers and a tape are read to at a dock, in millimetres. */
const SHORTEST_MM = 0.1
const LONGEST_MM = 1e5

/** A length in a request: millimetres, no other unit. */
export const LengthMm = z
  .number()
  .min(SHORTEST_MM)
  .max(LONGEST_MM)
  .meta({ description: 'Millimetres', examples: [150] })
