import { OutOfRange } from '../../errors.js'
import { type FitOptions, type MixedModelData, type RandomTerm, RESIDUAL } from './types.js'

/**
 * @param sameDesign whether columns and memberships have been checked before
 * @throws OutOfRange naming the first part of the data that cannot be fitted
 */
export function checkData(data: MixedModelData, sameDesign: boolean): void {
  const rows = data.y.length
  if (!(rows >= 1)) throw new OutOfRange('rows', rows, 'at least 1')
  checkNumbers('y', data.y, rows, Number.NEGATIVE_INFINITY)
  checkFixed(data, rows, sameDesign)
  if (!sameDesign) checkTerms(data.random, rows)
  checkNumbers('error variance', data.errorVariance, rows, 0)
  if (data.residualScale) checkNumbers('residual scale', data.residualScale, rows, Number.MIN_VALUE)
  for (const { row, other, covariance } of data.errorCovariance ?? []) {
    for (const index of [row, other]) {
      if (!(Number.isInteger(index) && index >= 0 && index < rows)) {
        throw new OutOfRange('row of an error covariance', index, `a row from 0 to ${rows - 1}`)
      }
    }
    if (row === other) throw new OutOfRange('row of an error covariance', row, 'two different rows')
    if (!Number.isFinite(covariance)) throw new OutOfRange('error covariance', covariance, 'a finite number')
  }
}

function checkNumbers(what: string, values: Float64Array, rows: number, least: number): void {
  if (values.length !== rows) throw new OutOfRange(`length of ${what}`, values.length, `${rows}, one a row`)
  for (let i = 0; i < rows; i++) {
    const value = values[i]!
    if (!(Number.isFinite(value) && value >= least)) {
      const range = least === Number.NEGATIVE_INFINITY ? 'finite' : least === 0 ? 'finite and not negative' : 'above 0'
      throw new OutOfRange(`${what} of row ${i}`, value, range)
    }
  }
}

function checkFixed(data: MixedModelData, rows: number, sameColumns: boolean): void {
  const count = data.fixed.length
  if (data.fixedNames.length !== count) {
    throw new OutOfRange('number of names of fixed effects', data.fixedNames.length, `${count}, one a column`)
  }
  data.fixed.forEach((column, j) => {
    if (!sameColumns) checkNumbers(`fixed effect "${data.fixedNames[j]}"`, column, rows, Number.NEGATIVE_INFINITY)
  })
  if (!data.fixedPrior) return
  const { mean, precision } = data.fixedPrior
  if (mean.length !== count || precision.length !== count) {
    throw new OutOfRange('number of priors of fixed effects', `${mean.length}, ${precision.length}`, `${count} each`)
  }
  data.fixedNames.forEach((name, j) => {
    const own = precision[j]!
    if (!(own >= 0 && Number.isFinite(own))) throw new OutOfRange(`prior precision of "${name}"`, own, 'not negative')
    if (own > 0 && !Number.isFinite(mean[j])) throw new OutOfRange(`prior mean of "${name}"`, mean[j], 'finite')
  })
}

function checkTerms(terms: readonly RandomTerm[], rows: number): void {
  const names = new Set<string>([RESIDUAL])
  for (const term of terms) {
    if (names.has(term.name)) throw new OutOfRange('name of a random term', term.name, 'used once')
    names.add(term.name)
    if (new Set(term.levels).size !== term.levels.length) {
      throw new OutOfRange(`levels of ${term.name}`, term.levels.length, 'named once each')
    }
    if (term.membership.length !== rows) {
      throw new OutOfRange(`length of the membership in ${term.name}`, term.membership.length, `${rows}, one a row`)
    }
    term.membership.forEach((members, row) => {
      for (const { level, weight } of members) {
        if (!(Number.isInteger(level) && level >= 0 && level < term.levels.length)) {
          throw new OutOfRange(`level of ${term.name} in row ${row}`, level, 'one of the levels')
        }
        if (!Number.isFinite(weight)) throw new OutOfRange(`weight of ${term.name} in row ${row}`, weight, 'finite')
      }
    })
  }
}

/** @throws OutOfRange naming the first option that cannot be met */
export function checkOptions(data: MixedModelData, options: FitOptions): void {
  const names = new Set([...data.random.map((term) => term.name), RESIDUAL])
  const { variancePriors = {}, heldVariances = {}, start = {}, tolerance = 1e-9 } = options
  if (!(tolerance > 0 && tolerance < 1))
    throw new OutOfRange('tolerance of the variances', tolerance, 'between 0 and 1')
  for (const name of [variancePriors, heldVariances, start].flatMap((given) => Object.keys(given))) {
    if (!names.has(name)) throw new OutOfRange('name of a variance', name, `one of ${[...names].join(', ')}`)
  }
  for (const [what, given] of [['held', heldVariances] as const, ['starting', start] as const]) {
    for (const [name, value] of Object.entries(given)) {
      if (!(value >= 0 && Number.isFinite(value))) {
        throw new OutOfRange(`${what} variance of ${name}`, value, 'finite and not negative')
      }
    }
  }
  for (const [name, prior] of Object.entries(variancePriors)) {
    if (prior.kind === 'flat') continue
    if (!(prior.shape > 1)) throw new OutOfRange(`prior shape of ${name}`, prior.shape, 'above 1')
    if (!(prior.rate >= 0)) throw new OutOfRange(`prior rate of ${name}`, prior.rate, 'not negative')
  }
}
