import { z } from 'zod'
import { DayOrNever, Share } from './desk-figures.js'
import { Day } from './names.js'
import { ALLOYS } from './vocabulary.js'

/** One chance in ten, as recommended dates have it. */
export const DEFAULT_RISK = 0.1
const Risk = z.coerce
  .number()
  .min(0.001)
  .max(0.9)
  .meta({ description: 'Largest accepted risk of an anode’s being due' })

const MOST_DAYS = 200
const MOST_PLACES = 1000

export const LiftPlanRequest = z
  .strictObject({
    risk: Risk.default(DEFAULT_RISK),
    days: z
      .array(
        z.strictObject({
          on: Day,
          places: z
            .int()
            .min(0)
            .max(MOST_PLACES)
            .nullable()
            .default(null)
            .meta({ description: 'Boats; null: any number' }),
        }),
      )
      .min(1)
      .max(MOST_DAYS)
      .refine((days) => new Set(days.map(({ on }) => on)).size === days.length, 'must name each day once'),
    until: Day.optional().meta({ description: 'No anode passes before it; a year after the last day unless given' }),
  })
  .meta({
    id: 'LiftPlanRequest',
    examples: [{ risk: 0.1, days: [{ on: '2031-04-07', places: 6 }, { on: '2031-04-14' }], until: '2032-04-14' }],
  })
export type LiftPlanRequest = z.infer<typeof LiftPlanRequest>

/** An anode to take along to a lift. */
export const PartOfLift = z.object({
  anode: z.string(),
  position: z.string(),
  alloy: z.enum(ALLOYS).nullable(),
  shape: z.string().nullable(),
  massG: z.number().nullable().meta({ description: 'Gross mass of the present one when new, g' }),
})
export type PartOfLift = z.infer<typeof PartOfLift>

const CountedParts = z
  .array(
    z.object({
      alloy: z.enum(ALLOYS).nullable(),
      shape: z.string().nullable(),
      massG: z
        .number()
        .nullable()
        .meta({ description: 'Gross, to two digits: castings within a tenth count as one part' }),
      count: z.int(),
    }),
  )
  .meta({ description: 'To order, by alloy, shape and mass' })
export type CountedParts = z.infer<typeof CountedParts>

const PlannedBoat = z.object({
  boat: z.string(),
  berth: z.string().nullable(),
  latest: z.iso.date().nullable().meta({ description: 'The last of the days that keeps the risk; null: none does' }),
  risk: Share.meta({ description: 'The largest of its anodes by that day' }),
  replace: z.array(PartOfLift).meta({ description: 'What would pass the risk before the following lift, or the end' }),
})
export type PlannedBoat = z.infer<typeof PlannedBoat>

export const UNHELD_REASONS = ['before-first-day', 'between-days', 'no-place'] as const

const UnheldBoat = z.object({
  boat: z.string(),
  berth: z.string().nullable(),
  anode: z.string(),
  position: z.string(),
  reason: z.enum(UNHELD_REASONS).meta({
    description:
      'The risk is passed before the first day, or from a lift to the next day, or no day before has a place',
  }),
  heldUntil: z.iso.date().nullable().meta({ description: 'Last day that keeps the risk; null: passed already' }),
  liftedOn: z.iso.date().nullable().meta({ description: 'The earliest place left; null: there is none' }),
  risk: Share.meta({ description: 'By that day, or by the end of the plan' }),
})
export type UnheldBoat = z.infer<typeof UnheldBoat>

export const LiftPlanAnswer = z
  .object({
    asOf: z.iso.date(),
    until: z.iso.date(),
    risk: Share,
    days: z.array(z.object({ on: z.iso.date(), places: z.int().nullable(), boats: z.array(PlannedBoat) })),
    unheld: z.array(UnheldBoat).meta({ description: 'Boats for which the risk cannot be kept, each with the reason' }),
    unlifted: z.array(z.string()).meta({ description: 'Boats that hold until the end of the plan' }),
    unforecast: z.array(z.string()).meta({ description: 'Boats without an anode that can be forecast' }),
    parts: CountedParts,
  })
  .meta({ id: 'LiftPlan' })
export type LiftPlanAnswer = z.infer<typeof LiftPlanAnswer>

export const PartsQuery = z.strictObject({
  until: Day.optional().meta({ description: 'Lifts planned until this day; a year ahead unless given' }),
  risk: Risk.default(DEFAULT_RISK),
})
export type PartsQuery = z.infer<typeof PartsQuery>

export const PartsList = z
  .object({
    asOf: z.iso.date(),
    until: z.iso.date(),
    risk: Share,
    lifts: z.array(
      z.object({
        boat: z.string(),
        berth: z.string().nullable(),
        on: z.iso.date(),
        next: DayOrNever.meta({ description: 'The boat’s following haul-out, planned or a year later' }),
        replace: z.array(PartOfLift),
      }),
    ),
    parts: CountedParts,
  })
  .meta({ id: 'PartsList' })
export type PartsList = z.infer<typeof PartsList>
