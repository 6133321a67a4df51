import { z } from 'zod'
import { Name } from './names.js'
import type { BerthSide } from './vocabulary.js'

/** No harbour has more pontoons, no pontoon more berths on a side. Convention. */
const MOST_PONTOONS = 200
const MOST_BERTHS = 500
const MOST_BERTHS_OFF = 2000
/** Half the width of the largest plan [m]. Convention. */
const FARTHEST_M = 10_000
const LARGEST_BERTH_M = 200

const BerthMeasureM = z.number().positive().max(LARGEST_BERTH_M).nullable()

/** Where a pontoon lies on the plan of the harbour. */
const LINE = {
  shoreXM: z.number().min(-FARTHEST_M).max(FARTHEST_M).meta({ description: 'Its shore end, to the right [m]' }),
  shoreYM: z.number().min(-FARTHEST_M).max(FARTHEST_M).meta({ description: 'Its shore end, downwards [m]' }),
  headingDegrees: z
    .number()
    .min(0)
    .lt(360)
    .meta({ description: 'Where it runs from the shore: 0 is up on the plan, 90 to the right [°]' }),
  berthLengthM: BerthMeasureM.meta({ description: 'Of most of its berths [m]; null: not known' }),
  berthWidthM: BerthMeasureM.meta({ description: 'Of most of its berths, along the pontoon [m]; null: not known' }),
}

const LINE_EXAMPLE = { shoreXM: 0, shoreYM: 60, headingDegrees: 0, berthLengthM: 12, berthWidthM: 4.5 }

const BerthOnRecord = z.object({
  id: z.uuid(),
  name: z.string(),
  hasStays: z.boolean().meta({ description: 'Boats have lain there, or will: it stays on record' }),
})

const SIDE_MEANS = 'From the shore outwards, on the side that is at hand when looking out from the shore'

export const PontoonDrawing = z
  .object({
    version: z
      .int()
      .meta({ description: 'Changes with what stands here, however it was changed, but for `hasStays`; the ETag' }),
    pontoons: z.array(
      z.object({
        id: z.uuid(),
        name: z.string(),
        ...LINE,
        left: z.array(BerthOnRecord).meta({ description: SIDE_MEANS }),
        right: z.array(BerthOnRecord).meta({ description: SIDE_MEANS }),
      }),
    ),
    undrawn: z
      .array(
        z.object({
          pontoon: z.object({ id: z.uuid(), name: z.string() }).nullable().meta({ description: 'Null: on none' }),
          berths: z.array(BerthOnRecord),
        }),
      )
      .meta({ description: 'Berths without a place on the drawing, by the pontoon they are on' }),
  })
  .meta({
    id: 'PontoonDrawing',
    description: 'The harbour as somebody drew it: pontoons on a plan in metres, berths in order on their sides',
    examples: [
      {
        version: 482_113_907,
        pontoons: [
          {
            id: '0c7f2a36-5d0e-4a39-9e0c-7d3f4f0b8a11',
            name: 'B',
            ...LINE_EXAMPLE,
            left: [{ id: '5d0c1c0a-36f8-4a86-8f0e-1f2b7a0f4f21', name: 'B1', hasStays: true }],
            right: [{ id: '8a4f6a53-1b8c-4c61-8a57-93f0b2f3f5c2', name: 'B2', hasStays: false }],
          },
        ],
        undrawn: [],
      },
    ],
  })
export type PontoonDrawing = z.infer<typeof PontoonDrawing>

const isNamed = ({ id, name }: { id?: string | undefined; name?: string | undefined }) =>
  id !== undefined || name !== undefined
const NAMELESS = 'must have an id, where it is on record, or a name'

const Drawn = {
  id: z.uuid().optional().meta({ description: 'Of one on record; without it a new one is made' }),
  name: Name.optional().meta({ description: 'Of a new one, or the new name of one on record' }),
}

const DrawnSide = z
  .array(z.strictObject(Drawn).refine(isNamed, NAMELESS))
  .max(MOST_BERTHS)
  .meta({ description: SIDE_MEANS })

export const NewPontoonDrawing = z
  .strictObject({
    pontoons: z
      .array(z.strictObject({ ...Drawn, ...LINE, left: DrawnSide, right: DrawnSide }).refine(isNamed, NAMELESS))
      .max(MOST_PONTOONS),
    off: z
      .array(z.uuid())
      .max(MOST_BERTHS_OFF)
      .default([])
      .meta({ description: 'Berths that are on no pontoon from now on' }),
    removed: z
      .array(z.uuid())
      .max(MOST_BERTHS_OFF)
      .default([])
      .meta({ description: 'Berths to take off the record; none where a boat has lain' }),
  })
  .meta({
    id: 'NewPontoonDrawing',
    description:
      'The whole drawing, in the place of the one before. Berths that stand nowhere in it stay on their pontoon, without a place on the drawing. ' +
      'A pontoon that is left out is not drawn; it goes when it has no berth.',
    examples: [
      {
        pontoons: [
          {
            id: '0c7f2a36-5d0e-4a39-9e0c-7d3f4f0b8a11',
            ...LINE_EXAMPLE,
            left: [{ id: '5d0c1c0a-36f8-4a86-8f0e-1f2b7a0f4f21' }, { name: 'B3' }],
            right: [{ id: '8a4f6a53-1b8c-4c61-8a57-93f0b2f3f5c2', name: 'B02' }],
          },
        ],
        off: [],
        removed: [],
      },
    ],
  })
export type NewPontoonDrawing = z.infer<typeof NewPontoonDrawing>
export type NewDrawnPontoon = NewPontoonDrawing['pontoons'][number]
export type NewDrawnBerth = NewDrawnPontoon[BerthSide][number]
