import type { ReferenceTable } from '../../../contract/reference.js'

type ShownColumn = ReferenceTable['columns'][number]

export interface ShownRow {
  readonly id: string
  /** By the columns, in their order; empty where the row has nothing. */
  readonly cells: readonly string[]
  readonly status: string
  /** With their places in the list of sources, from 1. */
  readonly sources: readonly { readonly key: string; readonly place: number }[]
  readonly note: string
}

export interface ShownTable {
  readonly columns: readonly ShownColumn[]
  readonly rows: readonly ShownRow[]
}

/** The table as people read it: names instead of keys where a row has both, figures with a proper minus. */
export function shownTable({ columns, items, sources: listed }: ReferenceTable): ShownTable {
  const places = new Map(listed.map(({ key }, at) => [key, at + 1]))
  const hasNames = columns.some(({ key }) => key === 'name' || key === 'text')
  const shown = columns.filter(({ key }) => !(key === 'key' && hasNames))
  const rows = items.map(({ values, status, sources, note }, at) => ({
    id: String(at),
    cells: shown.map(({ key }) => sayCell(values[key] ?? null)),
    status,
    sources: sources.map((key) => ({ key, place: places.get(key) ?? 0 })),
    note,
  }))
  return { columns: shown, rows }
}

type Cell = ReferenceTable['items'][number]['values'][string]

/** @example sayCell([9, 18]) // '9 to 18' */
export function sayCell(cell: Cell): string {
  if (cell === null) return ''
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no'
  if (Array.isArray(cell)) return cell.map(sayCell).join(cell.length === 2 ? ' to ' : ', ')
  return typeof cell === 'number' ? sayFigure(cell) : cell
}

/** All digits of the row, and powers of ten for what would be a long row of noughts. */
function sayFigure(figure: number): string {
  return String(figure).replaceAll('-', '−')
}
