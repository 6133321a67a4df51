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
    cells: shown.map(({ key }) => sayCell(values[key] ?? null, RANGES.includes(key))),
    status,
    sources: sources.map((key) => ({ key, place: places.get(key) ?? 0 })),
    note,
  }))
  return { columns: shown, rows }
}

type Cell = ReferenceTable['items'][number]['values'][string]

/** Columns whose two figures are the ends of a range. */
const RANGES: readonly string[] = ['value', 'depthM', 'salinityPsu', 'temperatureC', 'pressureDbar']

/** @example sayCell([9, 18], true) // '9 to 18' */
export function sayCell(cell: Cell, isRange: boolean): string {
  if (cell === null) return ''
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no'
  if (Array.isArray(cell))
    return sayList(
      cell.map((each) => sayCell(each, false)),
      isRange,
    )
  return typeof cell === 'number' ? sayFigure(cell) : cell
}

/** Sentences one after the other, ends of a range with a word between them, the rest with commas. */
function sayList(parts: readonly string[], isRange: boolean): string {
  if (isRange && parts.length === 2) return parts.join(' to ')
  return parts.join(parts.every((part) => part.endsWith('.')) ? ' ' : ', ')
}

/** All digits of the row. */
function sayFigure(figure: number): string {
  return String(figure).replaceAll('-', '−')
}
