import { z } from 'zod'
import { Name, NameOrId, NamePart } from './names.js'
import { pageOf, pageQuery } from './paging.js'
import { WATERS } from './vocabulary.js'

const BERTH_EXAMPLE = {
  name: 'B14',
  pontoon: 'B',
  water: 'brackish',
  salinityPsu: 18,
  latitude: 54.36,
  longitude: 10.14,
  shorePower: true,
  planX: 40,
  planY: 12,
}

const PlaceOnPlan = z.number().min(-1e6).max(1e6)

const details = {
  pontoon: Name.nullable().optional().meta({ description: 'Name of its pontoon, made when it is new' }),
  water: z.enum(WATERS).nullable().optional(),
  // PSS-78 is defined up to 42 (UNESCO Technical Papers in Marine Science 44).
  salinityPsu: z.number().min(0).max(42).nullable().optional().meta({ description: 'Practical salinity, 0 to 42' }),
  latitude: z.number().min(-90).max(90).nullable().optional().meta({ description: 'Degrees, north positive' }),
  longitude: z.number().min(-180).max(180).nullable().optional().meta({ description: 'Degrees, east positive' }),
  shorePower: z.boolean().nullable().optional(),
  planX: PlaceOnPlan.nullable()
    .optional()
    .meta({ description: 'Place on the plan, to the right; any unit, with planY' }),
  planY: PlaceOnPlan.nullable().optional().meta({ description: 'Place on the plan, downwards, with planX' }),
}

export const NewBerth = z.strictObject({ name: Name, ...details }).meta({
  id: 'NewBerth',
  description: 'A berth to add. Whatever is left out is unknown.',
  examples: [BERTH_EXAMPLE],
})
export type NewBerth = z.infer<typeof NewBerth>

export const BerthChange = z.strictObject({ name: Name.optional(), ...details }).meta({
  id: 'BerthChange',
  description: 'What to change; null makes a value unknown, what is left out stays.',
  examples: [{ water: 'salt', salinityPsu: 33 }],
})
export type BerthChange = z.infer<typeof BerthChange>

export const BerthView = z
  .object({
    id: z.uuid(),
    name: z.string(),
    pontoon: z.string().nullable(),
    water: z.enum(WATERS).nullable(),
    salinityPsu: z.number().nullable(),
    latitude: z.number().nullable(),
    longitude: z.number().nullable(),
    shorePower: z.boolean().nullable(),
    planX: z.number().nullable(),
    planY: z.number().nullable(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({
    id: 'Berth',
    examples: [
      {
        id: '5d0c1c0a-36f8-4a86-8f0e-1f2b7a0f4f21',
        ...BERTH_EXAMPLE,
        createdAt: '2031-04-18T09:30:00.000Z',
        version: 1,
      },
    ],
  })
export type BerthView = z.infer<typeof BerthView>

export const BERTH_SORTS = ['name', 'pontoon', 'createdAt'] as const

export const BerthQuery = pageQuery(BERTH_SORTS).extend({
  pontoon: NameOrId.optional(),
  water: z.enum(WATERS).optional(),
  q: NamePart.optional(),
})
export type BerthQuery = z.infer<typeof BerthQuery>

export const BerthPage = pageOf(BerthView)
export const BerthParams = z.object({ berth: NameOrId })
