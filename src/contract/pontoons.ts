import { z } from 'zod'
import { CAUSES } from '../engine/diagnosis/causes.js'
import { BERTH_SIDES, FINDING_DIRECTIONS, FINDING_STATES, WATERS } from './vocabulary.js'

const PlannedFinding = z.object({
  id: z.uuid(),
  direction: z.enum(FINDING_DIRECTIONS),
  state: z.enum(FINDING_STATES),
  cause: z.enum(CAUSES).nullable().meta({ description: 'The likeliest' }),
})

const PlannedBerth = z.object({
  berth: z.string(),
  water: z.enum(WATERS).nullable(),
  salinityPsu: z.number().nullable(),
  shorePower: z.boolean().nullable(),
  planX: z.number().nullable().meta({ description: 'Place on the plan, to the right; any unit, null: not placed' }),
  planY: z.number().nullable().meta({ description: 'Place on the plan, downwards' }),
  side: z.enum(BERTH_SIDES).nullable().meta({
    description: 'Of its pontoon, looking out from the shore, where somebody drew it; before planX and planY',
  }),
  place: z.int().nullable().meta({ description: 'On its side, from 1 at the shore outwards; with side' }),
  effect: z
    .object({ mean: z.number(), se: z.number() })
    .nullable()
    .meta({ description: 'Of the berth on the log of the rate, from the last fit; null where it is not in it' }),
  boats: z.array(z.string()).meta({ description: 'Lying there today' }),
  findings: z
    .array(PlannedFinding)
    .meta({ description: 'Unsettled ones of the berth, its boats and their anodes; not those of its pontoon' }),
})

/** What a schematic plan of the berths is drawn from. */
export const PontoonPlan = z
  .object({
    asOf: z.iso
      .date()
      .nullable()
      .meta({ description: 'Day of the fit that the effects are from; null before the first' }),
    pontoons: z.array(
      z.object({
        pontoon: z.string().nullable().meta({ description: 'Null for the berths that are on none' }),
        findings: z.array(PlannedFinding).meta({ description: 'Unsettled ones of the whole pontoon' }),
        berths: z.array(PlannedBerth).meta({ description: 'By name, numbers by their size' }),
      }),
    ),
  })
  .meta({ id: 'PontoonPlan' })
export type PontoonPlan = z.infer<typeof PontoonPlan>
