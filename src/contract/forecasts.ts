import { z } from 'zod'
import { Day, NameOrId } from './names.js'
import { Cursor } from './paging.js'
import { ALLOYS, WEIGHING_METHODS } from './vocabulary.js'

const Grams = z.number().meta({ description: 'g' })
const Share = z.number().min(0).max(1)
const Quantiles = z.object({ p10: z.number(), p50: z.number(), p90: z.number() })
const DayOrNever = z.iso.date().nullable()

/** When one anode should be replaced, and how sure that is. */
export const ForecastItem = z
  .object({
    boat: z.string(),
    anode: z.string(),
    position: z.string(),
    alloy: z.enum(ALLOYS).nullable(),
    berth: z
      .string()
      .nullable()
      .meta({ description: 'Where the boat lies, or lay last before it was lifted; null where nobody recorded it' }),
    asOf: z.iso.date(),
    massNow: Quantiles.meta({ description: 'Gross mass of the cleaned anode on that day, g' }),
    consumedNow: z.number().meta({ description: 'Consumed fraction of the net mass, at the middle estimate' }),
    threshold: Share.meta({ description: 'Consumed fraction at which it is due' }),
    replace: z
      .object({ p05: DayOrNever, p10: DayOrNever, p50: DayOrNever, p90: DayOrNever, p95: DayOrNever })
      .meta({ description: 'Dates by which the threshold is reached with that probability; null beyond 30 years' }),
    recommendedOn: DayOrNever.meta({
      description:
        'The last planned haul-out before p10, or p10 itself if none is planned; today where that lies behind',
    }),
    riskBeforeNextHaulOut: Share.meta({
      description: 'Probability of reaching the threshold before the next haul-out',
    }),
    nextHaulOut: z
      .object({ on: z.iso.date(), planned: z.boolean() })
      .meta({ description: 'The haul-out that the risk is about; not planned: a year after the last one is assumed' }),
    haulOutRisks: z
      .array(z.object({ on: z.iso.date(), risk: Share }))
      .meta({ description: 'Every planned haul-out ahead, in order, with the probability of being due by then' }),
    rate: Quantiles.meta({ description: 'Loss, g per day in the water' }),
    basis: z
      .object({ physics: Share, fleet: Share, boat: Share, anode: Share })
      .meta({ description: 'On what the rate rests, in shares that add to 1' }),
    wear: z
      .object({
        surprise: z
          .number()
          .meta({ description: 'Normal score of the last loss under the prediction made without it' }),
        judgement: z.enum(['normal', 'fast', 'slow']),
        against: z.enum(['prediction', 'common-practice']),
      })
      .nullable()
      .meta({ description: 'The last interval against what was to be expected; null before the first' }),
  })
  .meta({ id: 'Forecast' })
export type ForecastItem = z.infer<typeof ForecastItem>

/** A whole fleet's, for programs that take them all at once. */
const LARGEST_FORECAST_PAGE = 10_000

export const FORECAST_SORTS = ['recommendedOn', '-recommendedOn', 'boat', '-boat', 'risk', '-risk'] as const

export const ForecastQuery = z.strictObject({
  asOf: Day.optional().meta({ description: 'Only what was known by then counts; today unless given' }),
  limit: z.coerce.number().int().min(1).max(LARGEST_FORECAST_PAGE).default(100),
  cursor: Cursor,
  sort: z.enum(FORECAST_SORTS).default('recommendedOn'),
  boat: NameOrId.optional().meta({ description: 'Name of one boat' }),
  berth: NameOrId.optional(),
  alloy: z.enum(ALLOYS).optional(),
  dueBefore: Day.optional().meta({ description: 'Recommended on or before this day' }),
})
export type ForecastQuery = z.infer<typeof ForecastQuery>

export const ForecastPage = z
  .object({ items: z.array(ForecastItem), nextCursor: z.string().nullable() })
  .meta({ id: 'ForecastPage' })
export type ForecastPage = z.infer<typeof ForecastPage>

const CurvePoint = z.object({ on: z.iso.date(), p10: Grams, p50: Grams, p90: Grams })

const DrawnWeighing = z.object({
  id: z.uuid(),
  on: z.iso.date(),
  method: z.enum(WEIGHING_METHODS),
  massG: Grams.meta({ description: 'Gross, judged from what was measured' }),
  sdG: Grams.meta({ description: 'Standard deviation of its error' }),
  weight: z.number().nullable().meta({
    description: 'How much the loss up to it counts in the rates: 1 in full, below 0.5 it stands out; null unknown',
  }),
  conditions: z.array(z.string()),
  photos: z.array(z.uuid()),
})

/** Everything that the depletion plots of a boat are drawn from. */
export const DepletionView = z
  .object({
    boat: z.string(),
    asOf: z.iso.date(),
    anodes: z.array(
      z.object({
        anode: z.string(),
        position: z.string(),
        positionSlot: z.int().meta({ description: 'Tells two positions of one label apart, from 1' }),
        alloy: z.enum(ALLOYS).nullable(),
        shape: z.string().nullable(),
        fittedOn: z.iso.date().nullable(),
        removedOn: z.iso.date().nullable(),
        coreMassG: Grams.nullable(),
        fittedMassG: Grams.nullable().meta({ description: 'Gross, when fitted' }),
        thresholdMassG: Grams.nullable().meta({ description: 'Gross mass at which it is due' }),
        weighings: z.array(DrawnWeighing),
        curve: z.array(CurvePoint).meta({ description: 'Gross mass over time; empty for an anode that was replaced' }),
        forecast: ForecastItem.nullable(),
      }),
    ),
  })
  .meta({ id: 'Depletion' })
export type DepletionView = z.infer<typeof DepletionView>
