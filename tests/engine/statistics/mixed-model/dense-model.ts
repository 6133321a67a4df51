import { inverse, LuDecomposition, Matrix } from 'ml-matrix'
import type { LinearTarget, MixedModelData } from '../../../../src/engine/statistics/mixed-model/types.js'

/**
 * The same model written out with dense matrices of all rows, straight from its definition: the marginal covariance
 * for the criterion, Henderson's equations for the effects. The check of the blocked algorithm; nothing is shared.
 */
export function denseModel(data: MixedModelData, variances: Readonly<Record<string, number>>) {
  const n = data.y.length
  const p = data.fixed.length
  const x = new Matrix(n, p)
  data.fixed.forEach((own, j) => {
    x.setColumn(j, [...own])
  })
  const errors = errorCovariance(data, variances.residual!)
  const effects = data.random.flatMap((term) => term.levels.map((level) => ({ term: term.name, level })))
  const z = effectDesign(data)
  const spread = effects.map(({ term }) => variances[term]!)
  const v = errors.clone().add(z.mmul(Matrix.diag(spread)).mmul(z.transpose()))
  const precision = data.fixed.map((_, j) => data.fixedPrior?.precision[j] ?? 0)
  const priorMean = precision.map((own, j) => (own > 0 ? data.fixedPrior!.mean[j]! : 0))

  return {
    criterion: () => criterionOf(v, x, Matrix.columnVector([...data.y]), precision, priorMean),
    /** Estimates of (β, effects) and the covariance of their errors; all variances above zero. */
    henderson: () => {
      const w = Matrix.zeros(n, p + effects.length)
      w.setSubMatrix(x, 0, 0)
      w.setSubMatrix(z, 0, p)
      const weighted = w.transpose().mmul(inverse(errors))
      const penalty = [...precision, ...spread.map((own) => 1 / own)]
      const covariance = inverse(weighted.mmul(w).add(Matrix.diag(penalty)))
      const right = weighted.mmul(Matrix.columnVector([...data.y]))
      priorMean.forEach((mean, j) => {
        right.set(j, 0, right.get(j, 0) + precision[j]! * mean)
      })
      return { estimates: covariance.mmul(right).to1DArray(), covariance }
    },
    effects,
    /** Row of coefficients on (β, effects); levels met in the data only. */
    coefficients: (target: LinearTarget): number[] => [
      ...target.fixed,
      ...effects.map(({ term, level }) =>
        (target.random[term] ?? []).reduce((sum, own) => sum + (own.level === level ? own.weight : 0), 0),
      ),
    ],
  }
}

function errorCovariance(data: MixedModelData, residual: number): Matrix {
  const diagonal = [...data.errorVariance].map((own, row) => own + residual * (data.residualScale?.[row] ?? 1))
  const errors = Matrix.diag(diagonal)
  for (const { row, other, covariance } of data.errorCovariance ?? []) {
    errors.set(row, other, covariance)
    errors.set(other, row, covariance)
  }
  return errors
}

function effectDesign(data: MixedModelData): Matrix {
  const z = Matrix.zeros(
    data.y.length,
    data.random.reduce((sum, term) => sum + term.levels.length, 0),
  )
  let from = 0
  for (const term of data.random) {
    term.membership.forEach((members, row) => {
      for (const { level, weight } of members) z.set(row, from + level, z.get(row, from + level) + weight)
    })
    from += term.levels.length
  }
  return z
}

function criterionOf(v: Matrix, x: Matrix, y: Matrix, precision: number[], priorMean: number[]): number {
  const inverted = inverse(v)
  const equations = x.transpose().mmul(inverted).mmul(x).add(Matrix.diag(precision))
  const centred = Matrix.sub(y, x.mmul(Matrix.columnVector(priorMean)))
  const weighted = x.transpose().mmul(inverted).mmul(centred)
  const total = centred.transpose().mmul(inverted).mmul(centred).get(0, 0)
  const explained = weighted.transpose().mmul(inverse(equations)).mmul(weighted).get(0, 0)
  const flat = precision.filter((own) => own === 0).length
  const proper = precision.filter((own) => own > 0).reduce((sum, own) => sum + Math.log(own), 0)
  return (
    (v.rows - flat) * Math.log(2 * Math.PI) + logDeterminant(v) + logDeterminant(equations) - proper + total - explained
  )
}

function logDeterminant(matrix: Matrix): number {
  const upper = new LuDecomposition(matrix).upperTriangularMatrix
  return upper.diag().reduce((sum, own) => sum + Math.log(Math.abs(own)), 0)
}
