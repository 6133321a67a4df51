import { z } from 'zod'
import { Day, NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'

const BERTH_OF_STAY = { description: 'Name or id of the berth; null: ashore' }

const span = {
  toOn: Day.nullable()
    .optional()
    .meta({ description: 'Day of leaving, which belongs to the next stay; null: until further notice' }),
  shorePowerHoursPerDay: z
    .number()
    .min(0)
    .max(24)
    .nullable()
    .optional()
    .meta({ description: 'Hours a day on shore power; null: unknown' }),
}

export const NewStay = z
  .strictObject({
    berth: NameOrId.nullable().meta(BERTH_OF_STAY),
    fromOn: Day,
    ...span,
    closeOpenStay: z
      .literal(true)
      .optional()
      .meta({ description: 'Ends the stay that is still open on the day this one starts, instead of refusing' }),
  })
  .meta({
    id: 'NewStay',
    description: 'A boat at one berth, or ashore, over [fromOn, toOn). It may lie ahead.',
    examples: [{ berth: 'B14', fromOn: '2031-04-18', toOn: null, shorePowerHoursPerDay: 24, closeOpenStay: true }],
  })
export type NewStay = z.infer<typeof NewStay>

export const StayChange = z
  .strictObject({ berth: NameOrId.nullable().optional().meta(BERTH_OF_STAY), fromOn: Day.optional(), ...span })
  .meta({
    id: 'StayChange',
    description: 'What to change; what is left out stays.',
    examples: [{ toOn: '2031-10-02' }],
  })
export type StayChange = z.infer<typeof StayChange>

export const StayView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    berth: z.string().nullable(),
    fromOn: z.iso.date(),
    toOn: z.iso.date().nullable(),
    shorePowerHoursPerDay: z.number().nullable(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({
    id: 'Stay',
    examples: [
      {
        id: '8c2f9a3e-9d55-4a55-8f6b-5a6a1d1f9b02',
        boat: 'Marsh Harrier',
        berth: 'B14',
        fromOn: '2031-04-18',
        toOn: null,
        shorePowerHoursPerDay: 24,
        createdAt: '2031-04-18T09:30:00.000Z',
        version: 1,
      },
    ],
  })
export type StayView = z.infer<typeof StayView>

export const STAY_SORTS = ['fromOn', 'toOn', 'boat', 'createdAt'] as const

export const StayOfBoatQuery = pageQuery(STAY_SORTS).extend({
  berth: NameOrId.optional(),
  from: Day.optional().meta({ description: 'Stays that last beyond this day or start on it' }),
  to: Day.optional().meta({ description: 'Stays that start on this day or before' }),
})
export const StayQuery = StayOfBoatQuery.extend({ boat: NameOrId.optional() })
export type StayQuery = z.infer<typeof StayQuery>

export const StayPage = pageOf(StayView)
export const StayParams = z.object({ stay: z.uuid() })
