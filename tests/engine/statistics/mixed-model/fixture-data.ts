import type { Membership, MixedModelData, RandomTerm } from '../../../../src/engine/statistics/mixed-model/types.js'

/** Rows of a reference case, by column. */
export interface Table {
  readonly columns: readonly string[]
  readonly rows: readonly (readonly (string | number | null)[])[]
}

/** Shares of one row, by level. */
export type Shares = Readonly<Record<string, number>>

/** A random term from the shares of each row. */
export function termOf(name: string, shares: readonly Shares[]): RandomTerm {
  const levels = [...new Set(shares.flatMap((row) => Object.keys(row)))].sort()
  const membership = shares.map((row) =>
    Object.entries(row).map(([level, weight]): Membership => ({ level: levels.indexOf(level), weight })),
  )
  return { name, levels, membership }
}

/** One column of a table. */
export function column(table: Table, name: string): (string | number | null)[] {
  const at = table.columns.indexOf(name)
  if (at < 0) throw new Error(`no column ${name}`)
  return table.rows.map((row) => row[at]!)
}

/** y ~ 1 + (1 | each factor). */
export function interceptModel(table: Table, response: string, factors: readonly string[]): MixedModelData {
  const y = Float64Array.from(column(table, response), Number)
  return {
    y,
    fixedNames: ['intercept'],
    fixed: [new Float64Array(y.length).fill(1)],
    random: factors.map((factor) =>
      termOf(
        factor,
        column(table, factor).map((level) => ({ [String(level)]: 1 })),
      ),
    ),
    errorVariance: new Float64Array(y.length),
  }
}

/** log(mass loss a day) ~ alloy + (1 | boat) + (shares | berth), the model of the depletion cases. */
export function depletionModel(table: Table): MixedModelData {
  const days = column(table, 'days').map(Number)
  const alloy = column(table, 'alloy')
  const first = column(table, 'berth').map(String)
  const split = table.columns.includes('berth2')
  const shares = first.map((berth, row): Shares => {
    const second = split ? column(table, 'berth2')[row] : null
    if (second === null || second === undefined) return { [berth]: 1 }
    const at = (name: string): number => Number(column(table, name)[row]) / days[row]!
    return { [berth]: at('days_at_berth'), [String(second)]: at('days_at_berth2') }
  })
  const boats = column(table, 'boat').map((boat) => ({ [String(boat)]: 1 }))
  const indicator = (name: string): Float64Array => Float64Array.from(alloy, (own) => (own === name ? 1 : 0))
  return {
    y: Float64Array.from(column(table, 'mass_loss_g'), (loss, row) => Math.log(Number(loss) / days[row]!)),
    fixedNames: ['intercept (zinc)', 'aluminium', 'magnesium'],
    fixed: [new Float64Array(days.length).fill(1), indicator('aluminium'), indicator('magnesium')],
    random: [termOf('boat', boats), termOf('berth', shares)],
    errorVariance: new Float64Array(days.length),
  }
}
