import { z } from 'zod'
import { Name, NameOrId, NamePart } from './names.js'
import { pageOf, pageQuery } from './paging.js'
import { HULLS, WATERS, YES_NO_UNKNOWN } from './vocabulary.js'

/** Share of an anode consumed at which it is due. */
export const WastingThreshold = z
  .number()
  .gt(0)
  .lt(1)
  .meta({ description: 'Consumed fraction at which an anode is due', examples: [0.5] })

const BOAT_EXAMPLE = {
  name: 'Marsh Harrier',
  ownerName: 'Ines Okafor',
  ownerEmail: 'ines@example.org',
  hull: 'grp',
  galvanicIsolator: 'no',
  launchedYear: 2009,
  wastingThreshold: null,
}

const details = {
  ownerName: Name.nullable().optional(),
  ownerEmail: z.email().max(254).nullable().optional(),
  hull: z.enum(HULLS).nullable().optional(),
  galvanicIsolator: z
    .enum(YES_NO_UNKNOWN)
    .nullable()
    .optional()
    .meta({ description: 'In the shore earth; null where nobody has said' }),
  launchedYear: z.int().min(1800).max(2200).nullable().optional(),
  wastingThreshold: WastingThreshold.nullable()
    .optional()
    .meta({ description: "Null: the organisation's own threshold counts" }),
}

export const NewBoat = z.strictObject({ name: Name, ...details }).meta({
  id: 'NewBoat',
  description: 'A boat to add. Whatever is left out is unknown.',
  examples: [BOAT_EXAMPLE],
})
export type NewBoat = z.infer<typeof NewBoat>

export const BoatChange = z.strictObject({ name: Name.optional(), ...details }).meta({
  id: 'BoatChange',
  description: 'What to change; null makes a value unknown, what is left out stays.',
  examples: [{ galvanicIsolator: 'yes', wastingThreshold: 0.4 }],
})
export type BoatChange = z.infer<typeof BoatChange>

export const BoatView = z
  .object({
    id: z.uuid(),
    name: z.string(),
    ownerName: z.string().nullable(),
    ownerEmail: z.string().nullable(),
    hull: z.enum(HULLS).nullable(),
    galvanicIsolator: z.enum(YES_NO_UNKNOWN).nullable(),
    launchedYear: z.int().nullable(),
    wastingThreshold: z.number().nullable(),
    currentBerth: z.string().nullable().meta({ description: "Name of today's berth; null ashore or where unknown" }),
    ashore: z.boolean().nullable().meta({ description: 'Ashore today; null where no stay covers today' }),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({
    id: 'Boat',
    examples: [
      {
        id: '0b9f4d6e-6a5e-4f6f-9a58-2f6d6f0a7c11',
        ...BOAT_EXAMPLE,
        currentBerth: 'B14',
        ashore: false,
        createdAt: '2031-04-18T09:30:00.000Z',
        version: 1,
      },
    ],
  })
export type BoatView = z.infer<typeof BoatView>

export const BOAT_SORTS = ['name', 'launchedYear', 'createdAt'] as const

export const BoatQuery = pageQuery(BOAT_SORTS).extend({
  berth: NameOrId.optional().meta({ description: 'Boats that lie at this berth today' }),
  pontoon: NameOrId.optional().meta({ description: 'Boats that lie at this pontoon today' }),
  water: z.enum(WATERS).optional().meta({ description: 'Boats that lie in such water today' }),
  hull: z.enum(HULLS).optional(),
  owner: NameOrId.optional().meta({ description: "Name, e-mail address or id of the boats' owner" }),
  q: NamePart.optional(),
})
export type BoatQuery = z.infer<typeof BoatQuery>

export const BoatPage = pageOf(BoatView)

/** A boat in a path. */
export const BoatParams = z.object({ boat: NameOrId })
