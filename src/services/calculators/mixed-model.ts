import { z } from 'zod'
import { OutOfRange } from '../../engine/errors.js'
import { fitMixedModel } from '../../engine/statistics/mixed-model/fit.js'
import { type MixedModelData, type RandomTerm, RESIDUAL } from '../../engine/statistics/mixed-model/types.js'
import { calculator } from './calculator.js'

/**
 * Bounds that keep one request from holding the server for more than a few seconds (measured: 3.4 s for 5000 rows and 250
 * levels crossed with 1000 others). Time grows with the cube of the crossed levels. A fleet's own fit is a job without them.
 */
const MOST_ROWS = 5000
const MOST_CROSSED_LEVELS = 250

const Row = z.strictObject({
  y: z.number().describe('Response'),
  variance: z.number().min(0).default(0).describe('Known variance of its error'),
  fixed: z.record(z.string(), z.number()).default({}).describe('Columns of the fixed effects; one not named is 0'),
  random: z
    .record(z.string(), z.record(z.string(), z.number()))
    .default({})
    .describe('By group, the levels the row belongs to with their weights'),
})
type Row = z.output<typeof Row>

export const mixedModelCalculator = calculator({
  name: 'mixed-model',
  summary: 'Linear mixed model by restricted maximum likelihood: crossed groups, multiple membership, known errors',
  input: z.strictObject({
    rows: z
      .array(Row)
      .min(1)
      .max(MOST_ROWS)
      .describe('The intercept is a column like any other: name it in `fixed` with the value 1'),
    priors: z.literal('flat').default('flat').describe('Priors on the variances'),
  }),
  output: z.object({
    fixed: z.record(z.string(), z.object({ estimate: z.number(), se: z.number() })),
    variances: z.record(z.string(), z.number()).describe('By group, and `residual`'),
    effects: z
      .record(z.string(), z.record(z.string(), z.object({ mode: z.number(), predictionSd: z.number() })))
      .describe('By group and level'),
    remlCriterion: z.number().describe('−2 × the restricted log-likelihood'),
  }),
  sources: ['patterson-thompson-1971', 'searle-1992', 'browne-2001'],
  example: {
    rows: ['north', 'north', 'east', 'east', 'south', 'south'].map((berth, index) => ({
      y: [1.0, 1.2, 2.1, 2.0, 0.4, 0.7][index]!,
      fixed: { intercept: 1 },
      random: { berth: { [berth]: 1 } },
    })),
    priors: 'flat',
  },
  compute: ({ rows }) => {
    const fit = fitMixedModel(mixedModelData(rows))
    const effects = Object.entries(fit.effects).map(([group, levels]) => {
      return [group, Object.fromEntries(levels.map(({ level, ...effect }) => [level, summarised(effect)]))]
    })
    return {
      fixed: Object.fromEntries(fit.fixed.map(({ name, estimate, se }) => [name, { estimate, se }])),
      variances: { ...fit.variances },
      effects: Object.fromEntries(effects),
      remlCriterion: fit.remlCriterion,
    }
  },
  fieldOf: {},
  otherwise: 'rows',
})

function summarised({ mode, predictionSd }: { mode: number; predictionSd: number }) {
  return { mode, predictionSd }
}

/** The rows as columns of the design, in the order in which names first appear. */
function mixedModelData(rows: readonly Row[]): MixedModelData {
  const fixedNames = namesIn(rows.map((row) => row.fixed))
  const groups = namesIn(rows.map((row) => row.random))
  if (groups.includes(RESIDUAL))
    throw new OutOfRange('name of a group', RESIDUAL, 'another: it names the residual variance')
  const random = groups.map((group) => randomTerm(group, rows))
  refuseTooManyLevels(random)
  return {
    y: Float64Array.from(rows, (row) => row.y),
    fixedNames,
    fixed: fixedNames.map((name) => Float64Array.from(rows, (row) => row.fixed[name] ?? 0)),
    random,
    errorVariance: Float64Array.from(rows, (row) => row.variance),
  }
}

function refuseTooManyLevels(random: readonly RandomTerm[]): void {
  const counts = random.map(({ levels }) => levels.length)
  const crossed = counts.reduce((sum, count) => sum + count, 0) - Math.max(0, ...counts)
  if (crossed <= MOST_CROSSED_LEVELS) return
  throw new OutOfRange('number of levels beside the largest group', crossed, `at most ${MOST_CROSSED_LEVELS}`)
}

function randomTerm(name: string, rows: readonly Row[]): RandomTerm {
  const levels = namesIn(rows.map((row) => row.random[name] ?? {}))
  const indexOf = new Map(levels.map((level, index) => [level, index]))
  const membership = rows.map((row) =>
    Object.entries(row.random[name] ?? {}).map(([level, weight]) => ({ level: indexOf.get(level)!, weight })),
  )
  return { name, levels, membership }
}

function namesIn(records: readonly Readonly<Record<string, unknown>>[]): string[] {
  return [...new Set(records.flatMap((record) => Object.keys(record)))]
}
