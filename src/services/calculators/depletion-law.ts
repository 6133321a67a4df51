import { z } from 'zod'
import { compareLaws } from '../../engine/depletion/compare-laws.js'
import { CROSSING_LEVEL } from '../../engine/depletion/fit-law.js'
import { calculator } from './calculator.js'

/** Keeps one request from holding the server for more than about a second (measured: 1.3 s for 300 masses on a busy machine). */
const MOST_MASSES = 300
const OrNone = z.number().nullable()

const LackOfFit = z
  .object({ f: z.number(), lackOfFitFreedom: z.number(), pureErrorFreedom: z.number(), probability: z.number() })
  .nullable()
  .describe('F test against one mean a day; null where no day is repeated. A small probability speaks against the law')

const Fitted = {
  m0G: z.number().describe('Net mass at day 0 [g]'),
  kGPerDay: z.number().describe('Rate at day 0 [g/d]'),
  residualSumOfSquares: z.number(),
  residualSdG: z.number(),
  logLikelihood: OrNone.describe('null where the law goes through every mass'),
  aic: OrNone.describe('2 × parameters (the scatter is one) − 2 × log likelihood'),
}

const Law = z.object({
  exponent: z.number().describe('q: 0 constant current, 2/3 current by surface, 1 current by mass'),
  ...Fitted,
  se: z.object({ m0G: z.number(), kGPerDay: z.number() }),
  weight: z.number().describe('Share of the evidence among these laws (Akaike weight)'),
  crossing: z.object({
    days: z.number().describe('Day on which the share is left'),
    sd: z.number().describe('By the delta method [d]'),
    lower: OrNone.describe(`Limits of ${CROSSING_LEVEL * 100} % by profile likelihood; null where there is none`),
    upper: OrNone,
  }),
  lackOfFit: LackOfFit,
})

export const depletionLawCalculator = calculator({
  name: 'depletion-law',
  summary: "Which depletion law one anode's masses speak for, and when a share of it is left",
  input: z.strictObject({
    masses: z
      .array(
        z.strictObject({
          days: z.number().describe('Days in the water since day 0'),
          netMassG: z.number().describe('Net mass then [g]'),
        }),
      )
      .min(3)
      .max(MOST_MASSES),
    fractionLeft: z.number().default(0.5).describe('Share of the mass at day 0 whose day is asked for, 0 to 1'),
  }),
  output: z.object({
    laws: z.array(Law),
    free: z
      .object({
        exponent: z.number(),
        ...Fitted,
        se: z.object({ exponent: z.number(), m0G: z.number(), kGPerDay: z.number() }),
      })
      .nullable()
      .describe('With q free; null for fewer than four masses, or where they do not tell it'),
  }),
  sources: ['marquardt-1963', 'bates-watts-1988', 'draper-smith-1998'],
  example: {
    masses: [
      { days: 0, netMassG: 980 },
      { days: 70, netMassG: 870 },
      { days: 180, netMassG: 712 },
      { days: 300, netMassG: 592 },
      { days: 430, netMassG: 474 },
      { days: 630, netMassG: 334 },
    ],
    fractionLeft: 0.5,
  },
  compute: ({ masses, fractionLeft }) => {
    const { laws, free } = compareLaws(masses, fractionLeft)
    return {
      laws: laws.map(({ exponent, fit, crossing, weight, lackOfFit, ...own }) => ({
        exponent,
        ...fitted(fit, own),
        se: { m0G: fit.se[0]!, kGPerDay: fit.se[1]! },
        weight,
        crossing: { days: crossing.days, sd: crossing.sd, ...crossing.limits },
        lackOfFit,
      })),
      free: free && {
        exponent: free.fit.parameters[2]!,
        ...fitted(free.fit, free),
        se: { exponent: free.fit.se[2]!, m0G: free.fit.se[0]!, kGPerDay: free.fit.se[1]! },
      },
    }
  },
  fieldOf: { 'share left': 'fractionLeft' },
  otherwise: 'masses',
})

interface Likelihood {
  readonly logLikelihood: number
  readonly aic: number
}

function fitted(
  fit: { readonly parameters: readonly number[]; residualSumOfSquares: number; residualSd: number },
  { logLikelihood, aic }: Likelihood,
) {
  return {
    m0G: fit.parameters[0]!,
    kGPerDay: fit.parameters[1]!,
    residualSumOfSquares: fit.residualSumOfSquares,
    residualSdG: fit.residualSd,
    logLikelihood: Number.isFinite(logLikelihood) ? logLikelihood : null,
    aic: Number.isFinite(aic) ? aic : null,
  }
}
