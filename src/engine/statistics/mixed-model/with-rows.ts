import type { ExtraRow, Membership, MixedModelData, RandomTerm } from './types.js'

/** The data with rows added; levels not met before are added to their terms. */
export function appendRows(data: MixedModelData, rows: readonly ExtraRow[]): MixedModelData {
  const count = data.y.length
  const scaled = data.residualScale !== undefined || rows.some((row) => row.residualScale !== undefined)
  const scale = data.residualScale ?? new Float64Array(count).fill(1)
  return {
    ...data,
    y: append(data.y, rows, (row) => row.y),
    fixed: data.fixed.map((column, j) => append(column, rows, (row) => row.target.fixed[j] ?? Number.NaN)),
    random: data.random.map((term) => appendMembers(term, rows)),
    errorVariance: append(data.errorVariance, rows, (row) => row.errorVariance),
    errorCovariance: [
      ...(data.errorCovariance ?? []),
      ...rows.flatMap((row, k) => (row.errorCovariance ?? []).map((entry) => ({ row: count + k, ...entry }))),
    ],
    ...(scaled && { residualScale: append(scale, rows, (row) => row.residualScale ?? 1) }),
  }
}

function append(values: Float64Array, rows: readonly ExtraRow[], of: (row: ExtraRow) => number): Float64Array {
  const longer = new Float64Array(values.length + rows.length)
  longer.set(values)
  rows.forEach((row, k) => {
    longer[values.length + k] = of(row)
  })
  return longer
}

function appendMembers(term: RandomTerm, rows: readonly ExtraRow[]): RandomTerm {
  const levels = [...term.levels]
  const indices = new Map(levels.map((level, l) => [level, l]))
  const added = rows.map(({ target }): Membership[] =>
    (target.random[term.name] ?? []).map(({ level, weight }) => {
      const index = indices.get(level) ?? levels.length
      if (index === levels.length) {
        levels.push(level)
        indices.set(level, index)
      }
      return { level: index, weight }
    }),
  )
  return { name: term.name, levels, membership: [...term.membership, ...added] }
}
