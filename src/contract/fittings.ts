import { z } from 'zod'
import { Metal } from './metals.js'
import { Name, NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'

const FITTING_EXAMPLE = { name: 'propeller', metal: 'manganese-bronze', areaCm2: 1450, coated: false, bonded: true }

const details = {
  metal: Metal.nullable().optional(),
  areaCm2: z.number().min(0).max(1e7).nullable().optional().meta({ description: 'Wetted area, cm²' }),
  coated: z.boolean().nullable().optional(),
  bonded: z.boolean().nullable().optional().meta({ description: "Connected to the boat's bonding" }),
}

export const NewFitting = z.strictObject({ name: Name, ...details }).meta({
  id: 'NewFitting',
  description: 'A piece of underwater metal. Whatever is left out is unknown.',
  examples: [FITTING_EXAMPLE],
})
export type NewFitting = z.infer<typeof NewFitting>

export const FittingChange = z.strictObject({ name: Name.optional(), ...details }).meta({
  id: 'FittingChange',
  description: 'What to change; null makes a value unknown, what is left out stays.',
  examples: [{ coated: true }],
})
export type FittingChange = z.infer<typeof FittingChange>

export const FittingView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    name: z.string(),
    metal: z.string().nullable(),
    areaCm2: z.number().nullable(),
    coated: z.boolean().nullable(),
    bonded: z.boolean().nullable(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({
    id: 'Fitting',
    examples: [
      {
        id: '2f7b8f0c-13b1-4df5-a2ad-0d1a4b6c9e31',
        boat: 'Marsh Harrier',
        ...FITTING_EXAMPLE,
        createdAt: '2031-04-18T09:30:00.000Z',
        version: 1,
      },
    ],
  })
export type FittingView = z.infer<typeof FittingView>

export const FITTING_SORTS = ['name', 'areaCm2', 'createdAt'] as const
export const FittingQuery = pageQuery(FITTING_SORTS).extend({ metal: Metal.optional() })
export type FittingQuery = z.infer<typeof FittingQuery>
export const FittingPage = pageOf(FittingView)
export const FittingParams = z.object({ boat: NameOrId, fitting: NameOrId })
