import { z } from 'zod'
import { anodePiece } from './anodes.js'
import { JobView } from './jobs.js'
import { Day, Name, NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'
import { WEIGHING_METHODS } from './vocabulary.js'
import { Confirm, measuredFields, Note, WEIGHING_EXAMPLE, WeighingView } from './weighings.js'

const MOST_ANODES = 200

export const Replacement = z
  .strictObject({
    name: Name.optional().meta({ description: 'Left out: the next number, "shaft 3" after "shaft 2"' }),
    ...anodePiece,
  })
  .meta({
    id: 'Replacement',
    description: 'The new anode, fitted where the old one sat on the day of the haul-out',
    examples: [{ alloy: 'zinc', shape: 'shaft collar', grossMassG: 1250, coreMassG: 80 }],
  })
export type Replacement = z.infer<typeof Replacement>

export const AnodeAtLift = z
  .strictObject({
    anode: NameOrId,
    method: z.enum(WEIGHING_METHODS).default('scale'),
    ...measuredFields,
    confirm: Confirm,
    replacedBy: Replacement.optional(),
  })
  .meta({
    id: 'AnodeAtLift',
    description: 'One anode weighed, replaced, or both. A missing one: method visual, wastedPercent 100.',
    examples: [
      { anode: 'hull 1', massG: { value: 5.1, unit: 'lb' }, resolutionG: 5, cleaned: true },
      { anode: 'skeg 1', method: 'visual', wastedPercent: 100, conditions: ['missing'], replacedBy: { alloy: 'zinc' } },
    ],
  })
export type AnodeAtLift = z.infer<typeof AnodeAtLift>

const Relaunch = z
  .strictObject({
    berth: NameOrId.nullable().meta({ description: 'Where it goes back into the water; null: it stays ashore' }),
    shorePowerHoursPerDay: z.number().min(0).max(24).nullable().optional(),
  })
  .meta({
    id: 'Relaunch',
    description:
      'Moves the stays along: ashore from hauledOn to relaunchedOn, then at the berth. Left out, stays are as they were.',
    examples: [{ berth: 'B14', shorePowerHoursPerDay: 24 }, { berth: null }],
  })
export type Relaunch = z.infer<typeof Relaunch>

export const NewHaulOut = z
  .strictObject({
    hauledOn: Day,
    relaunchedOn: Day.nullable().optional(),
    planned: z
      .boolean()
      .nullable()
      .optional()
      .meta({ description: 'It was, or is, in the calendar; only a planned one may lie ahead' }),
    note: Note.nullable().optional(),
    weighings: z.array(AnodeAtLift).max(MOST_ANODES).default([]),
    relaunch: Relaunch.optional(),
  })
  .meta({
    id: 'NewHaulOut',
    description: 'What was done at one lift: all of it is kept, or nothing.',
    examples: [
      {
        hauledOn: '2031-10-02',
        relaunchedOn: '2031-10-03',
        weighings: [
          { anode: 'hull 1', massG: 2310, resolutionG: 5, cleaned: true },
          {
            anode: 'shaft 2',
            massG: { value: 0.41, unit: 'kg' },
            conditions: ['crusted'],
            replacedBy: { alloy: 'zinc', shape: 'shaft collar', grossMassG: 1250, coreMassG: 80 },
          },
        ],
        relaunch: { berth: 'B14' },
      },
      { hauledOn: '2032-04-12', planned: true },
    ],
  })
export type NewHaulOut = z.infer<typeof NewHaulOut>

export const HaulOutChange = z
  .strictObject({
    hauledOn: Day.optional(),
    relaunchedOn: Day.nullable().optional(),
    planned: z.boolean().nullable().optional(),
    note: Note.nullable().optional(),
  })
  .meta({
    id: 'HaulOutChange',
    description: 'What to change; what is left out stays.',
    examples: [{ relaunchedOn: '2031-10-04' }],
  })
export type HaulOutChange = z.infer<typeof HaulOutChange>

const HAUL_OUT_EXAMPLE = {
  id: 'b0a9d2c4-7d0c-4b0e-9a93-0a4c1f1f9e55',
  boat: 'Marsh Harrier',
  hauledOn: '2031-10-02',
  relaunchedOn: '2031-10-03',
  planned: true,
  note: null,
  createdAt: '2031-10-02T09:30:00.000Z',
  version: 1,
}
const DETAIL_EXAMPLE = {
  ...HAUL_OUT_EXAMPLE,
  weighings: [WEIGHING_EXAMPLE],
  replaced: [{ anode: 'shaft 2', by: 'shaft 3', position: 'shaft' }],
}

export const HaulOutView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    hauledOn: z.iso.date(),
    relaunchedOn: z.iso.date().nullable(),
    planned: z.boolean().nullable(),
    note: z.string().nullable(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({ id: 'HaulOut', examples: [HAUL_OUT_EXAMPLE] })
export type HaulOutView = z.infer<typeof HaulOutView>

export const HaulOutDetail = HaulOutView.extend({
  weighings: z.array(WeighingView),
  replaced: z
    .array(z.object({ anode: z.string(), by: z.string(), position: z.string() }))
    .meta({ description: 'Anodes removed that day, and what took their place' }),
}).meta({ id: 'HaulOutDetail', examples: [DETAIL_EXAMPLE] })
export type HaulOutDetail = z.infer<typeof HaulOutDetail>

export const LoggedHaulOut = HaulOutDetail.extend({
  refit: JobView.nullable().meta({
    description: 'The job that makes the forecasts anew; null where all of this had been logged already',
  }),
}).meta({ id: 'LoggedHaulOut', examples: [{ ...DETAIL_EXAMPLE, refit: null }] })
export type LoggedHaulOut = z.infer<typeof LoggedHaulOut>

export const HAUL_OUT_SORTS = ['hauledOn', 'boat', 'createdAt'] as const

export const HaulOutOfBoatQuery = pageQuery(HAUL_OUT_SORTS).extend({
  from: Day.optional().meta({ description: 'Hauled on this day or after' }),
  to: Day.optional().meta({ description: 'Hauled on this day or before' }),
  planned: z
    .enum(['true', 'false'])
    .transform((word) => word === 'true')
    .optional(),
})
export const HaulOutQuery = HaulOutOfBoatQuery.extend({ boat: NameOrId.optional() })
export type HaulOutQuery = z.infer<typeof HaulOutQuery>

export const HaulOutPage = pageOf(HaulOutView)
export const HaulOutParams = z.object({ haulOut: z.uuid() })
