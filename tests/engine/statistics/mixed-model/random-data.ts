import type { LinearTarget, Membership, MixedModelData } from '../../../../src/engine/statistics/mixed-model/types.js'

/** Which parts of the model a random data set has. */
export interface Parts {
  readonly multipleOuter: boolean
  readonly errorCovariance: boolean
  readonly residualScale: boolean
  readonly fixedPrior: boolean
}

/** Uniform numbers from 0 to 1: a linear congruential generator (Numerical Recipes' constants), the same everywhere. */
export function uniforms(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return (state + 0.5) / 4294967296
  }
}

/** A small unbalanced data set: effects `outer`, `inner` nested in it, `crossed` with shares; some rows in no term. */
export function randomData({ seed, rows, parts }: { seed: number; rows: number; parts: Parts }): MixedModelData {
  const draw = uniforms(seed)
  const pick = (count: number): number => Math.floor(draw() * count)
  const outer = Array.from({ length: rows }, () => pick(5))
  const inner = outer.map((own) => own * 3 + pick(3))
  const outerMembers = outer.map((own): Membership[] => {
    const share = 0.3 + 0.5 * draw()
    if (!parts.multipleOuter || draw() < 0.6) return [{ level: own, weight: 1 }]
    return [
      { level: own, weight: share },
      { level: (own + 1) % 5, weight: 1 - share },
    ]
  })
  const crossed = outer.map((): Membership[] => {
    const first = pick(4)
    const share = draw()
    if (draw() < 0.15) return []
    return draw() < 0.5
      ? [{ level: first, weight: 1 }]
      : [
          { level: first, weight: share },
          { level: pick(4), weight: 1 - share },
        ]
  })
  const effects = Array.from({ length: 25 }, () => draw() - 0.5)
  const fixed = [
    new Float64Array(rows).fill(1),
    Float64Array.from(outer, () => 3 * draw()),
    Float64Array.from(outer, () => pick(2)),
  ]
  const errorVariance = Float64Array.from(outer, () => 0.02 + 0.1 * draw())
  const y = Float64Array.from(
    outer,
    (own, row) => 4 + fixed[1]![row]! - 2 * effects[own]! + effects[5 + inner[row]!]! + draw(),
  )
  return {
    y,
    fixedNames: ['intercept', 'slope', 'indicator'],
    fixed,
    random: [
      { name: 'outer', levels: names('o', 5), membership: outerMembers },
      { name: 'inner', levels: names('i', 15), membership: inner.map((level) => [{ level, weight: 1 }]) },
      { name: 'crossed', levels: names('c', 4), membership: crossed },
    ],
    errorVariance,
    ...(parts.errorCovariance && { errorCovariance: chainedErrors(inner, errorVariance) }),
    ...(parts.residualScale && { residualScale: Float64Array.from(outer, () => 0.5 + 3 * draw()) }),
    ...(parts.fixedPrior && { fixedPrior: { mean: [0, 0.8, -0.1], precision: [0, 4, 0.3] } }),
  }
}

function names(prefix: string, count: number): string[] {
  return Array.from({ length: count }, (_, level) => `${prefix}${level}`)
}

/** Successive rows of the same inner level share part of their errors, with opposite signs; correlation −0.4. */
function chainedErrors(inner: readonly number[], errorVariance: Float64Array) {
  const last = new Map<number, number>()
  return inner.flatMap((level, row) => {
    const other = last.get(level)
    last.set(level, row)
    if (other === undefined) return []
    return [{ row, other, covariance: -0.4 * Math.sqrt(errorVariance[row]! * errorVariance[other]!) }]
  })
}

/** The linear function whose new value would be a row of the data. */
export function targetOf(data: MixedModelData, row: number): LinearTarget {
  return {
    fixed: data.fixed.map((own) => own[row]!),
    random: Object.fromEntries(
      data.random.map((term) => [
        term.name,
        term.membership[row]!.map(({ level, weight }) => ({ level: term.levels[level]!, weight })),
      ]),
    ),
  }
}

/** The data without some rows; levels stay listed. */
export function without(data: MixedModelData, rows: readonly number[]): MixedModelData {
  const kept = [...data.y.keys()].filter((row) => !rows.includes(row))
  return reordered(data, kept)
}

/** Rows of the data in another order, or some of them. */
export function reordered(data: MixedModelData, order: readonly number[]): MixedModelData {
  const take = (values: Float64Array): Float64Array => Float64Array.from(order, (row) => values[row]!)
  const place = new Map(order.map((row, i) => [row, i]))
  const { errorCovariance, residualScale } = data
  return {
    ...data,
    y: take(data.y),
    fixed: data.fixed.map(take),
    random: data.random.map((term) => ({ ...term, membership: order.map((row) => term.membership[row]!) })),
    errorVariance: take(data.errorVariance),
    ...(residualScale && { residualScale: take(residualScale) }),
    ...(errorCovariance && {
      errorCovariance: errorCovariance.flatMap(({ row, other, covariance }) => {
        const [one, two] = [place.get(row), place.get(other)]
        return one === undefined || two === undefined ? [] : [{ row: one, other: two, covariance }]
      }),
    }),
  }
}
