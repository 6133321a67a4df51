import { z } from 'zod'

const NamedEstimate = z.object({ name: z.string(), estimate: z.number(), se: z.number() })
const ShareOrNone = z.number().nullable()

const Coverage = z.object({
  level: z.number().meta({ description: 'Probability that the interval claims' }),
  share: ShareOrNone.meta({ description: 'Share of the weighings inside it; null before the first' }),
  low: ShareOrNone.meta({ description: 'Interval of 90 % for that share (Wilson)' }),
  high: ShareOrNone,
})

const scoreMembers = {
  scored: z.number().int().meta({ description: 'Past forecasts that a later weighing has judged' }),
  coverage: z.array(Coverage).readonly(),
  meanScore: z
    .number()
    .nullable()
    .meta({ description: 'Mean normal score: 0 without bias, above 0 lost more than forecast' }),
  biasG: z.number().nullable().meta({ description: 'Median loss beyond the middle forecast, g' }),
  biasDays: z
    .number()
    .nullable()
    .meta({ description: 'Median of the days in the water by which the wear was ahead of the middle forecast' }),
  crpsG: z
    .number()
    .nullable()
    .meta({ description: 'Mean continuous ranked probability score of the mass, g: smaller is better' }),
}

export const GroupScore = z.object({ group: z.string(), ...scoreMembers }).meta({ id: 'GroupScore' })
export type GroupScore = z.infer<typeof GroupScore>

const ReliabilityBin = z.object({
  from: z.number(),
  to: z.number(),
  count: z.number().int(),
  share: ShareOrNone.meta({ description: 'A tenth where forecasts are honest' }),
  low: ShareOrNone.meta({ description: 'Interval of 90 % for that share (Wilson)' }),
  high: ShareOrNone,
})

const Calibration = z
  .object({
    ...scoreMembers,
    weighings: z
      .number()
      .int()
      .meta({ description: 'Weighings that judged: each judges one forecast for each horizon, the newest 2000 count' }),
    hindsight: z
      .number()
      .int()
      .meta({ description: 'Of the forecasts judged, those made later from what was known on their day' }),
    byHorizon: z.array(GroupScore).readonly().meta({ description: 'By the days from the forecast to the weighing' }),
    byWater: z.array(GroupScore).readonly(),
    byAlloy: z.array(GroupScore).readonly(),
    reliability: z
      .array(ReliabilityBin)
      .readonly()
      .meta({ description: 'How often a loss fell between two successive deciles of its forecast' }),
  })
  .meta({ description: 'How past forecasts of the mass did when the anode was weighed on a scale' })

const Observation = z
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
  .meta({ description: 'How masses were read' })

const LearnedExponent = z.object({
  shape: z.string(),
  exponent: z.number(),
  sd: z.number().nullable().meta({ description: 'Of what is believed of q; null in fits of older versions' }),
  anodes: z.number().int().meta({ description: 'Anodes weighed three times or more, which alone tell' }),
  evidence: z.number().meta({ description: 'Log likelihood of this q above that of constant current' }),
  laws: z
    .array(
      z.object({
        exponent: z.number().meta({ description: '0 constant current, 2/3 current by surface, 1 current by mass' }),
        evidence: z.number().meta({ description: 'Log likelihood above that of constant current' }),
        probability: z.number().meta({ description: 'Among these laws, each as likely as the others beforehand' }),
      }),
    )
    .readonly(),
})

const Standout = z.object({
  boat: z.string(),
  anode: z.string(),
  on: z.iso.date().meta({ description: 'Day of the weighing that ends the interval' }),
  weight: z.number().meta({ description: 'Below 0.5; 1 counts in full' }),
  logRate: z.number().meta({ description: 'Most likely log rate of the interval, log g a day' }),
  expected: z.number().meta({ description: 'The log rate that the fit expects there' }),
})

/** The organisation's rates as last fitted, and how past forecasts have done. */
export const ModelView = z
  .object({
    asOf: z.iso.date(),
    fittedAt: z.iso.datetime(),
    intervals: z.number().int(),
    anodes: z.number().int(),
    boats: z.number().int(),
    observation: Observation,
    seasonSe: z.object({ cos: z.number(), sin: z.number() }).readonly(),
    exponents: z
      .array(LearnedExponent)
      .readonly()
      .meta({ description: 'Exponent q of the depletion law by shape, with what speaks for it' }),
    variances: z
      .record(z.string(), z.number())
      .readonly()
      .meta({ description: 'Variance components of the log rate: boat, berth, place, anode, residual' }),
    fixed: z.array(NamedEstimate).readonly().meta({ description: 'Fixed effects on the log rate' }),
    boatEffects: z.array(NamedEstimate).readonly(),
    berthEffects: z.array(NamedEstimate).readonly(),
    standouts: z
      .array(Standout)
      .readonly()
      .meta({ description: 'The 200 intervals that count least of those that count less than half' }),
    standoutCount: z.number().int().meta({ description: 'How many intervals count less than half' }),
    calibration: Calibration,
  })
  .meta({ id: 'Model' })
export type ModelView = z.infer<typeof ModelView>
