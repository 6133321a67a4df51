import { z } from 'zod'
import { JobView } from './jobs.js'
import { LengthMm, MassG, MassGOrZero } from './mass.js'
import { Day, NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'
import { CONDITIONS, SUBMERGED_IN, WEIGHING_METHODS } from './vocabulary.js'

/** Doubts about a weighing that a second look may settle. */
export const CONFIRMABLE_DOUBTS = [
  'looks-like-kilograms',
  'looks-like-grams',
  'heavier-than-before',
  'lighter-than-later',
  'larger-than-new',
] as const
export type ConfirmableDoubt = (typeof CONFIRMABLE_DOUBTS)[number]

const LONGEST_NOTE = 2000

/** Free words; a note is never empty. */
export const Note = z
  .string()
  .trim()
  .min(1)
  .max(LONGEST_NOTE)
  .meta({ examples: ['white crust on the port side'] })

const Conditions = z
  .array(z.enum(CONDITIONS))
  .max(CONDITIONS.length)
  .transform((codes) => [...new Set(codes)])
  .meta({ description: 'What the anode and the metal around it look like', examples: [['even', 'crusted']] })

/** What was measured, each part where it was. */
export const measuredFields = {
  massG: MassG.nullable().optional().meta({ description: 'Gross mass as the scale shows it, core included' }),
  resolutionG: MassG.nullable()
    .optional()
    .meta({ description: 'Step of the scale', examples: [5] }),
  cleaned: z.boolean().nullable().optional().meta({ description: 'Brushed to bare metal before weighing' }),
  submergedMassG: MassGOrZero.nullable().optional().meta({ description: 'The same anode hung in water' }),
  submergedIn: z.enum(SUBMERGED_IN).nullable().optional(),
  wastedPercent: z.number().min(0).max(100).nullable().optional().meta({ description: 'Judged by eye: percent gone' }),
  lengthMm: LengthMm.nullable().optional(),
  widthMm: LengthMm.nullable().optional(),
  heightMm: LengthMm.nullable().optional(),
  conditions: Conditions.optional(),
  note: Note.nullable().optional(),
}

export const Confirm = z
  .array(z.enum(CONFIRMABLE_DOUBTS))
  .optional()
  .meta({
    description: 'Codes of doubts that were looked at and found right; the refusal that asks names them',
    examples: [['heavier-than-before']],
  })

export const NewWeighing = z
  .strictObject({
    weighedOn: Day,
    method: z.enum(WEIGHING_METHODS).default('scale'),
    ...measuredFields,
    confirm: Confirm,
  })
  .meta({
    id: 'NewWeighing',
    description:
      'A dated mass: `scale` needs massG; `visual` wastedPercent; `dimensions` a length, width or height left.',
    examples: [
      { weighedOn: '2031-10-02', massG: 905, resolutionG: 5, cleaned: true, conditions: ['even'] },
      { weighedOn: '2031-10-02', massG: { value: 1.99, unit: 'lb' }, cleaned: false },
      { weighedOn: '2031-07-11', method: 'visual', wastedPercent: 30, note: 'seen by the diver' },
      { weighedOn: '2031-10-02', method: 'dimensions', lengthMm: 61 },
    ],
  })
export type NewWeighing = z.infer<typeof NewWeighing>

/** Why something that was logged is changed: goes to the audit trail. */
export const Reason = z
  .string()
  .trim()
  .min(3)
  .max(LONGEST_NOTE)
  .meta({ examples: ['read from the wrong line'] })

export const WeighingCorrection = z
  .strictObject({
    weighedOn: Day.optional(),
    method: z.enum(WEIGHING_METHODS).optional(),
    ...measuredFields,
    confirm: Confirm,
    reason: Reason,
  })
  .meta({
    id: 'WeighingCorrection',
    description: 'What to correct and why; what is left out stays, null makes a value unknown.',
    examples: [{ massG: 950, reason: 'read from the wrong line' }],
  })
export type WeighingCorrection = z.infer<typeof WeighingCorrection>

/** One weighing as it is shown. */
export const WEIGHING_EXAMPLE = {
  id: '3b8f2b2e-0c1e-4d83-8a15-6a3a0e3a9f10',
  boat: 'Marsh Harrier',
  anode: 'shaft 2',
  anodeId: '6f0b0b0e-4f0e-4a52-9a0c-52b1c1c7d3aa',
  haulOutId: 'b0a9d2c4-7d0c-4b0e-9a93-0a4c1f1f9e55',
  weighedOn: '2031-10-02',
  method: 'scale',
  massG: 905,
  netMassG: 825,
  consumedFraction: 0.295,
  resolutionG: 5,
  cleaned: true,
  submergedMassG: null,
  submergedIn: null,
  wastedPercent: null,
  lengthMm: null,
  widthMm: null,
  heightMm: null,
  conditions: ['even'],
  note: null,
  createdAt: '2031-10-02T09:30:00.000Z',
  version: 1,
}

export const WeighingView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    anode: z.string(),
    anodeId: z.uuid(),
    haulOutId: z.uuid().nullable(),
    weighedOn: z.iso.date(),
    method: z.enum(WEIGHING_METHODS),
    massG: z.number().nullable().meta({ description: 'Gross mass as logged' }),
    netMassG: z
      .number()
      .nullable()
      .meta({ description: 'Mass less core, estimated where it was not on a scale; null where that is unknown' }),
    consumedFraction: z
      .number()
      .nullable()
      .meta({ description: '1 − net mass / net mass when new; null where unknown' }),
    resolutionG: z.number().nullable(),
    cleaned: z.boolean().nullable(),
    submergedMassG: z.number().nullable(),
    submergedIn: z.enum(SUBMERGED_IN).nullable(),
    wastedPercent: z.number().nullable(),
    lengthMm: z.number().nullable(),
    widthMm: z.number().nullable(),
    heightMm: z.number().nullable(),
    conditions: z.array(z.enum(CONDITIONS)),
    note: z.string().nullable(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({ id: 'Weighing', examples: [WEIGHING_EXAMPLE] })
export type WeighingView = z.infer<typeof WeighingView>

export const CorrectedWeighing = WeighingView.extend({
  refit: JobView.meta({ description: 'The job that makes the forecasts anew' }),
}).meta({
  id: 'CorrectedWeighing',
  description: 'A weighing as it stands now',
  examples: [
    {
      ...WEIGHING_EXAMPLE,
      massG: 950,
      netMassG: 870,
      consumedFraction: 0.256,
      version: 2,
      refit: {
        id: '2f0c7d53-7a10-4c1e-8a44-5b1d0a1e2c03',
        kind: 'refit',
        state: 'queued',
        progress: 0,
        step: null,
        error: null,
        createdAt: '2031-10-03T08:12:00.000Z',
        startedAt: null,
        finishedAt: null,
      },
    },
  ],
})
export type CorrectedWeighing = z.infer<typeof CorrectedWeighing>

export const WEIGHING_SORTS = ['weighedOn', 'boat', 'anode', 'massG', 'createdAt'] as const

export const WeighingOfAnodeQuery = pageQuery(WEIGHING_SORTS).extend({
  from: Day.optional().meta({ description: 'Weighed on this day or after' }),
  to: Day.optional().meta({ description: 'Weighed on this day or before' }),
  method: z.enum(WEIGHING_METHODS).optional(),
})
export const WeighingQuery = WeighingOfAnodeQuery.extend({ boat: NameOrId.optional(), anode: NameOrId.optional() })
export type WeighingQuery = z.infer<typeof WeighingQuery>

export const WeighingPage = pageOf(WeighingView)
export const WeighingParams = z.object({ weighing: z.uuid() })
export const WeighingDeletion = z.strictObject({ reason: Reason })

/** One entry of a weighing's history: from what to what, by whom, why. */
export const WeighingHistory = z
  .object({
    items: z.array(
      z.object({
        at: z.iso.datetime(),
        by: z.string().meta({ examples: ['person:ines@example.org'] }),
        action: z.enum(['insert', 'update', 'delete']),
        reason: z.string().nullable(),
        changes: z.array(z.object({ field: z.string(), from: z.unknown(), to: z.unknown() })),
      }),
    ),
  })
  .meta({
    id: 'WeighingHistory',
    description: 'Oldest first; outlives the weighing itself',
    examples: [
      {
        items: [
          {
            at: '2031-10-03T08:12:00.000Z',
            by: 'key:Lift phone',
            action: 'update',
            reason: 'read from the wrong line',
            changes: [{ field: 'massG', from: 905, to: 950 }],
          },
        ],
      },
    ],
  })
export type WeighingHistory = z.infer<typeof WeighingHistory>
