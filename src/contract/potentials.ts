import { z } from 'zod'
import { Day, Instant, NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'
import { CIRCUIT_STATES, REFERENCE_ELECTRODES, SHORE_POWER_STATES } from './vocabulary.js'

const POTENTIAL_EXAMPLE = {
  measuredAt: '2031-04-18T09:30:00.000Z',
  fitting: 'propeller',
  reference: 'ag-agcl-seawater',
  volts: -0.94,
  shorePower: 'connected',
  circuits: 'off',
}

// No metal in water reads beyond 3 V against any of the electrodes: magnesium against copper sulfate is near -1.7 V.
const Volts = z
  .number()
  .refine((volts) => Math.abs(volts) <= 3, 'must lie between -3 and 3: volts, not millivolts')
  .meta({ minimum: -3, maximum: 3 })
const OF_FITTING = { description: 'Name or id of the fitting; null or left out: the bonded hull' }

const circumstances = {
  fitting: NameOrId.nullable().optional().meta(OF_FITTING),
  shorePower: z.enum(SHORE_POWER_STATES).nullable().optional(),
  circuits: z.enum(CIRCUIT_STATES).nullable().optional().meta({ description: "The boat's own circuits" }),
}

export const NewPotential = z
  .strictObject({ measuredAt: Instant, reference: z.enum(REFERENCE_ELECTRODES), volts: Volts, ...circumstances })
  .meta({ id: 'NewPotential', description: 'Potential of a metal in the water', examples: [POTENTIAL_EXAMPLE] })
export type NewPotential = z.infer<typeof NewPotential>

export const PotentialChange = z
  .strictObject({
    measuredAt: Instant.optional(),
    reference: z.enum(REFERENCE_ELECTRODES).optional(),
    volts: Volts.optional(),
    ...circumstances,
  })
  .meta({ id: 'PotentialChange', examples: [{ volts: -0.94 }] })
export type PotentialChange = z.infer<typeof PotentialChange>

export const PotentialView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    measuredAt: z.iso.datetime(),
    fitting: z.string().nullable(),
    reference: z.enum(REFERENCE_ELECTRODES).nullable(),
    volts: z.number(),
    shorePower: z.enum(SHORE_POWER_STATES).nullable(),
    circuits: z.enum(CIRCUIT_STATES).nullable(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({
    id: 'Potential',
    examples: [
      {
        id: 'c1a9d1de-4b3f-47a4-9d3e-7fb9f1f3c842',
        boat: 'Marsh Harrier',
        ...POTENTIAL_EXAMPLE,
        createdAt: '2031-04-18T09:31:12.000Z',
        version: 1,
      },
    ],
  })
export type PotentialView = z.infer<typeof PotentialView>

export const POTENTIAL_SORTS = ['measuredAt', 'volts', 'createdAt'] as const

export const PotentialOfBoatQuery = pageQuery(POTENTIAL_SORTS).extend({
  fitting: NameOrId.optional(),
  from: Day.optional().meta({ description: 'Measured on this day (UTC) or later' }),
  to: Day.optional().meta({ description: 'Measured on this day (UTC) or before' }),
})
export const PotentialQuery = PotentialOfBoatQuery.extend({ boat: NameOrId.optional() })
export type PotentialQuery = z.infer<typeof PotentialQuery>

export const PotentialPage = pageOf(PotentialView)
export const PotentialParams = z.object({ potential: z.uuid() })
