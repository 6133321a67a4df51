import type { ReactNode } from 'react'
import { useVirtualRows } from './use-virtual-rows.js'

interface VirtualListProps<Row> {
  label: string
  rows: readonly Row[]
  /** How many there will be once all are fetched. */
  total: number
  keyOf: (row: Row) => string
  /** About how high one is [px]. */
  height: number
  children: (row: Row) => ReactNode
}

/** A list of thousands of which only what the screen shows is there; each row says which of how many it is. */
export function VirtualList<Row>({ label, rows, total, keyOf, height, children }: VirtualListProps<Row>) {
  const { place, top, list } = useVirtualRows<HTMLOListElement>(rows.map(keyOf), height)
  return (
    <ol className="desk-rows" aria-label={label} ref={place} style={{ height: list.getTotalSize() }}>
      {list.getVirtualItems().map(({ key, index, start }) => {
        const row = rows[index]
        return (
          row !== undefined && (
            <li
              key={key}
              ref={list.measureElement}
              data-index={index}
              aria-setsize={total}
              aria-posinset={index + 1}
              className="desk-row"
              style={{ transform: `translateY(${start - top}px)` }}
            >
              {children(row)}
            </li>
          )
        )
      })}
    </ol>
  )
}
