import { z } from 'zod'
import { Day, Instant, Name, NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'

/** What a continuity reading calls the boat's bonding itself. */
export const BOND = 'bond'

const CONTINUITY_EXAMPLE = { measuredAt: '2031-04-18T09:40:00.000Z', from: 'shaft anode', to: BOND, ohms: 0.3 }

const End = Name.meta({ description: `Name of a fitting or an anode of the boat, or "${BOND}"` })
const Ohms = z.number().min(0).max(1e9)

export const NewContinuityReading = z.strictObject({ measuredAt: Instant, from: End, to: End, ohms: Ohms }).meta({
  id: 'NewContinuityReading',
  description: 'Resistance between two bonded things',
  examples: [CONTINUITY_EXAMPLE],
})
export type NewContinuityReading = z.infer<typeof NewContinuityReading>

export const ContinuityChange = z
  .strictObject({ measuredAt: Instant.optional(), from: End.optional(), to: End.optional(), ohms: Ohms.optional() })
  .meta({ id: 'ContinuityChange', examples: [{ ohms: 0.2 }] })
export type ContinuityChange = z.infer<typeof ContinuityChange>

export const ContinuityView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    measuredAt: z.iso.datetime(),
    from: z.string(),
    to: z.string(),
    ohms: z.number(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({
    id: 'ContinuityReading',
    examples: [
      {
        id: '77d7f6a1-7a52-4f3a-8a55-3c2a5f0c6d13',
        boat: 'Marsh Harrier',
        ...CONTINUITY_EXAMPLE,
        createdAt: '2031-04-18T09:41:00.000Z',
        version: 1,
      },
    ],
  })
export type ContinuityView = z.infer<typeof ContinuityView>

export const CONTINUITY_SORTS = ['measuredAt', 'ohms', 'createdAt'] as const

export const ContinuityOfBoatQuery = pageQuery(CONTINUITY_SORTS).extend({
  from: Day.optional().meta({ description: 'Measured on this day (UTC) or later' }),
  to: Day.optional().meta({ description: 'Measured on this day (UTC) or before' }),
})
export const ContinuityQuery = ContinuityOfBoatQuery.extend({ boat: NameOrId.optional() })
export type ContinuityQuery = z.infer<typeof ContinuityQuery>

export const ContinuityPage = pageOf(ContinuityView)
export const ContinuityParams = z.object({ reading: z.uuid() })
