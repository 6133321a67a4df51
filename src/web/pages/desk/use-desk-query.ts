import { useSearchParams } from 'react-router'

export const TABS = ['fleet', 'calendar', 'depletion', 'compare', 'plan', 'parts'] as const
export type Tab = (typeof TABS)[number]

/** Filters and order that the lists of the desk share; their names are the service's own. */
export const FILTERS = [
  'text',
  'pontoon',
  'berth',
  'alloy',
  'position',
  'dueBefore',
  'riskAbove',
  'openFindings',
] as const
export type FilterName = (typeof FILTERS)[number]

/** Names of one tab, so that another's filters do not reach it. */
type Name = FilterName | 'sort' | 'by' | 'compareBy' | 'show' | `plan-${string}` | `parts-${string}`

export interface DeskQuery {
  readonly query: URLSearchParams
  readonly tab: Tab
  get(name: Name): string
  /** Sets a value of the address, or several; an empty one is taken out. */
  set(values: { readonly [One in Name]?: string }): void
  /** Shows as what a saved view holds. */
  open(query: string): void
  clearFilters(): void
}

/** What the desk shows, kept in the page's address so that reloading, going back and sharing keep it. */
export function useDeskQuery(): DeskQuery {
  const [query, setQuery] = useSearchParams()
  return {
    query,
    tab: TABS.find((tab) => tab === query.get('tab')) ?? 'fleet',
    get: (name) => query.get(name) ?? '',
    set: (values) =>
      setQuery(
        (before) => {
          const next = new URLSearchParams(before)
          for (const [name, value] of Object.entries(values)) {
            if (value === '' || value === undefined) next.delete(name)
            else next.set(name, value)
          }
          return next
        },
        { replace: true },
      ),
    open: (saved) => setQuery(new URLSearchParams(saved)),
    clearFilters: () =>
      setQuery(
        (before) => new URLSearchParams([...before].filter(([name]) => !FILTERS.some((filter) => filter === name))),
        { replace: true },
      ),
  }
}

/** The filters of an address as the service takes them, with what else a list asks for. */
export function filtersOf(query: URLSearchParams, others: readonly string[] = []): URLSearchParams {
  const names = new Set<string>([...FILTERS, ...others])
  return new URLSearchParams([...query].filter(([name, value]) => names.has(name) && value !== ''))
}
