import { z } from 'zod'
import { Day, NameOrId } from './names.js'
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

export const FORECAST_SORTS = ['recommendedOn', '-recommendedOn', 'boat', '-boat', 'risk', '-risk'] as const

export const ForecastQuery = z.strictObject({
  asOf: Day.optional().meta({ description: 'Only what was known by then counts; today unless given' }),
  limit: z.coerce.number().int().min(1).max(1000).default(100),
  cursor: z.string().max(2000).optional(),
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

const NamedEstimate = z.object({ name: z.string(), estimate: z.number(), se: z.number() })
const Coverage = z.object({
  level: z.number().meta({ description: 'Probability that the interval claims' }),
  share: z.number().nullable().meta({ description: 'Share of the weighings inside it; null before the first' }),
})

/** The organisation's rates as last fitted, and how past forecasts have done. */
export const ModelView = z
  .object({
    asOf: z.iso.date(),
    fittedAt: z.iso.datetime(),
    intervals: z.number().int(),
    anodes: z.number().int(),
    boats: z.number().int(),
    observation: z
      .object({
        season: z.object({ cos: z.number(), sin: z.number(), warmestDay: z.number() }).meta({
          description: 'Yearly factor exp(cos·cos φ + sin·sin φ) of the rate, φ counted from the day of warmest water',
        }),
        exponents: z.record(z.string(), z.number()).meta({ description: 'Exponent q of the depletion law, by shape' }),
        errors: z.record(z.string(), z.number()).meta({ description: 'Biases and spreads of the ways of weighing' }),
        cores: z
          .record(z.string(), z.object({ share: z.number(), sd: z.number() }))
          .meta({ description: 'Usual core by shape, share of the gross mass when new' }),
      })
      .readonly()
      .meta({ description: 'How masses were read' }),
    seasonSe: z.object({ cos: z.number(), sin: z.number() }).readonly(),
    exponents: z
      .array(z.object({ shape: z.string(), exponent: z.number(), anodes: z.number().int(), evidence: z.number() }))
      .readonly()
      .meta({ description: 'Depletion exponents with the log likelihood that they gain over constant current' }),
    variances: z
      .record(z.string(), z.number())
      .readonly()
      .meta({ description: 'Variance components of the log rate: boat, berth, anode, residual' }),
    fixed: z.array(NamedEstimate).readonly().meta({ description: 'Fixed effects on the log rate' }),
    boatEffects: z.array(NamedEstimate).readonly(),
    berthEffects: z.array(NamedEstimate).readonly(),
    calibration: z
      .object({
        scored: z.number().int().meta({ description: 'Past forecasts that a later weighing has judged' }),
        coverage: z.array(Coverage).readonly(),
        meanScore: z
          .number()
          .nullable()
          .meta({ description: 'Mean normal score: 0 without bias, above 0 lost more than forecast' }),
      })
      .meta({ description: 'How past forecasts of the mass did when the anode was weighed' }),
  })
  .meta({ id: 'Model' })
export type ModelView = z.infer<typeof ModelView>
