import { z } from 'zod'
import { WastingThreshold } from './boats.js'
import { NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'
import { POSITION_KINDS } from './vocabulary.js'

export const PositionChange = z
  .strictObject({
    wastingThreshold: WastingThreshold.nullable().meta({ description: "Null: the boat's own threshold counts" }),
  })
  .meta({ id: 'PositionChange', examples: [{ wastingThreshold: 0.4 }] })
export type PositionChange = z.infer<typeof PositionChange>

export const PositionView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    label: z.string().meta({ description: 'What people call it', examples: ['hull port aft'] }),
    slot: z.int().meta({ description: 'Tells two positions of one label apart, from 1' }),
    kind: z.enum(POSITION_KINDS),
    wastingThreshold: z.number().nullable(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({ id: 'Position' })
export type PositionView = z.infer<typeof PositionView>

export const POSITION_SORTS = ['label', 'createdAt'] as const
export const PositionQuery = pageQuery(POSITION_SORTS)
export type PositionQuery = z.infer<typeof PositionQuery>
export const PositionPage = pageOf(PositionView)
export const PositionParams = z.object({ boat: NameOrId, position: z.uuid() })
