import { z } from 'zod'
import { repeatedMedianLine, theilSenLine } from '../../engine/statistics/median-line.js'
import { bisquareLine, huberLine, type RobustLine, type WeighedLine } from '../../engine/statistics/robust-line.js'
import {
  crossingLimits,
  fitWeightedLine,
  lineCrossing,
  type WeightedLine,
} from '../../engine/statistics/weighted-line.js'
import { calculator } from './calculator.js'

/** Keeps one request from holding the server: work grows with the square (measured: 1.4 s for 1000 masses on a busy machine). */
const MOST_MASSES = 500

const Line = { interceptG: z.number(), slopeGPerDay: z.number() }
const CrossingDay = z.number().nullable().describe('Day on which the line meets the mass; null for a level line')
const Limits = z
  .discriminatedUnion('kind', [
    z.object({ kind: z.enum(['bounded', 'outside']), lower: z.number(), upper: z.number() }),
    z.object({ kind: z.literal('everywhere') }),
  ])
  .describe('bounded: between the limits; outside: below the lower or above the upper; everywhere: no day is excluded')

const Weighed = z.object({
  ...Line,
  se: z.object({ interceptG: z.number(), slopeGPerDay: z.number() }),
  scaleG: z.number(),
  weights: z.array(z.number()).describe('By mass: 1 counts in full, 0 not at all'),
  crossing: CrossingDay,
})

export const massLineCalculator = calculator({
  name: 'mass-line',
  summary: "A straight line through one anode's masses, by least squares and by ways that bear a few wrong ones",
  input: z.strictObject({
    masses: z
      .array(
        z.strictObject({
          days: z.number().describe('Days in the water since day 0'),
          massG: z.number().describe('Mass then [g]'),
          sdG: z.number().positive().default(1).describe('Its error, right up to a factor common to all [g]'),
        }),
      )
      .min(3)
      .max(MOST_MASSES),
    dueMassG: z.number().describe('Mass whose day is asked for [g]'),
    level: z.number().default(0.95).describe('Level of all limits, between 0 and 1'),
    newSdG: z.number().nonnegative().default(1).describe('Error of one new weighing, in the terms of sdG [g]'),
  }),
  output: z.object({
    leastSquares: z
      .object({
        ...Line,
        se: z.object({ interceptG: z.number(), slopeGPerDay: z.number() }),
        residualScale: z.number().describe('Factor by which the errors were larger than given'),
        crossing: CrossingDay,
        crossingSd: z.number().nullable().describe('By the delta method [d]'),
        limits: Limits.nullable().describe('Of the day on which the line meets the mass (Fieller)'),
        newWeighingLimits: Limits.nullable().describe('Of the day on which one new weighing would read it'),
      })
      .describe('Weighted by 1/sdG²'),
    huber: Weighed.describe('The errors count as given'),
    bisquare: Weighed,
    theilSen: z.object({
      ...Line,
      slopeLimits: z.object({ lower: z.number(), upper: z.number() }),
      crossing: CrossingDay,
    }),
    repeatedMedians: z.object({ ...Line, crossing: CrossingDay }),
  }),
  sources: ['draper-smith-1998', 'fieller-1954', 'huber-1964', 'beaton-tukey-1974', 'sen-1968', 'siegel-1982'],
  example: {
    masses: [
      { days: 0, massG: 1210 },
      { days: 95, massG: 1098 },
      { days: 180, massG: 1012 },
      { days: 240, massG: 1190 },
      { days: 365, massG: 805 },
    ],
    dueMassG: 650,
  },
  compute: ({ masses, dueMassG, level, newSdG }) => {
    const points = masses.map(({ days, massG, sdG }) => ({ x: days, y: massG, sd: sdG }))
    const ofRobust = (line: RobustLine) => ({ ...lineOf(line), crossing: crossingOf(line, dueMassG) })
    const ofWeighed = (line: WeighedLine) => ({ ...ofRobust(line), ...weightsOf(line) })
    const theilSen = theilSenLine(points, level)
    const [lower, upper] = theilSen.slopeLimits
    return {
      leastSquares: leastSquares(fitWeightedLine(points, 'relative'), { dueMassG, level, newSdG }),
      huber: ofWeighed(huberLine(points)),
      bisquare: ofWeighed(bisquareLine(points)),
      theilSen: { ...ofRobust(theilSen), slopeLimits: { lower, upper } },
      repeatedMedians: ofRobust(repeatedMedianLine(points)),
    }
  },
  fieldOf: { 'confidence level': 'level', 'value to be met': 'dueMassG' },
  otherwise: 'masses',
})

function lineOf({ intercept, slope }: RobustLine) {
  return { interceptG: intercept, slopeGPerDay: slope }
}

function crossingOf({ intercept, slope }: RobustLine, massG: number): number | null {
  return slope === 0 ? null : (massG - intercept) / slope
}

function weightsOf({ se, scale, weights }: WeighedLine) {
  return { se: { interceptG: se.intercept, slopeGPerDay: se.slope }, scaleG: scale, weights: [...weights] }
}

interface Asked {
  readonly dueMassG: number
  readonly level: number
  readonly newSdG: number
}

function leastSquares(line: WeightedLine, { dueMassG, level, newSdG }: Asked) {
  const isLevel = line.slope === 0
  const limitsOf = (sd: number) => {
    if (isLevel) return null
    const { g: _, ...limits } = crossingLimits(line, dueMassG, level, sd)
    return limits
  }
  const crossing = isLevel ? null : lineCrossing(line, dueMassG)
  return {
    ...lineOf(line),
    se: { interceptG: Math.sqrt(line.covariance[0][0]), slopeGPerDay: Math.sqrt(line.varianceOfSlope) },
    residualScale: line.scale,
    crossing: crossing === null ? null : crossing.x,
    crossingSd: crossing === null ? null : crossing.sd,
    limits: limitsOf(0),
    newWeighingLimits: limitsOf(newSdG),
  }
}
