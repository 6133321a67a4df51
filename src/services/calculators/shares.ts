import { z } from 'zod'
import {
  differenceInterval,
  exactInterval,
  fisherExactTest,
  wilsonInterval,
} from '../../engine/statistics/proportion.js'
import { calculator } from './calculator.js'

/** Fisher's test adds up as many tables as the smaller count allows. */
const MOST_TRIALS = 1_000_000

const Count = z.strictObject({
  successes: z.number().int().nonnegative(),
  trials: z.number().int().positive().max(MOST_TRIALS),
})
const Interval = z.object({ low: z.number(), high: z.number() })

export const sharesCalculator = calculator({
  name: 'shares',
  summary: 'The share behind a count, and whether two counts differ: forecasts that held, boats with a fault',
  input: z.strictObject({
    ...Count.shape,
    other: Count.optional().describe('A count to compare with'),
    level: z.number().default(0.95).describe('Probability that the intervals claim, between 0 and 1'),
  }),
  output: z.object({
    share: z.number(),
    wilson: Interval.describe('Right on average; the one on the track record'),
    exact: Interval.describe('Never too narrow (Clopper and Pearson)'),
    difference: z
      .object({
        share: z.number().describe('Of the share over the other'),
        ...Interval.shape,
        probability: z.number().describe("Fisher's exact test, two-sided: small speaks for a difference"),
      })
      .nullable(),
  }),
  sources: ['wilson-1927', 'clopper-pearson-1934', 'newcombe-1998', 'fisher-1934'],
  example: { successes: 78, trials: 100, level: 0.9, other: { successes: 31, trials: 50 } },
  compute: ({ successes, trials, other, level }) => {
    const one = { successes, trials }
    const share = successes / trials
    return {
      share,
      wilson: wilsonInterval(successes, trials, level),
      exact: exactInterval(successes, trials, level),
      difference:
        other === undefined
          ? null
          : {
              share: share - other.successes / other.trials,
              ...differenceInterval(one, other, level),
              probability: fisherExactTest(one, other),
            },
    }
  },
  fieldOf: { successes: 'successes', trials: 'trials', level: 'level' },
  otherwise: 'other',
})
