import { useId, useState } from 'react'
import { ALLOYS } from '../../../contract/vocabulary.js'
import { capital } from '../../wording/words.js'
import { FLEET_ORDERS, type FleetFilter, type FleetOrder } from './fleet-rows.js'

const DUE_CHOICES: readonly (readonly [days: string, text: string])[] = [
  ['', 'Any time'],
  ['0', 'Due already'],
  ['30', '30 days'],
  ['91', '3 months'],
  ['182', '6 months'],
  ['365', '1 year'],
]

const ORDER_WORDS: Readonly<Record<FleetOrder, string>> = {
  replacement: 'Expected date',
  recommended: 'Replace by',
  risk: 'Risk',
  boat: 'Boat name',
}

/**
 * The filter, kept in the page's address so that going back and sharing keep it. The address is written past the
 * router: it applies changes when it finds time, and quick typing would lose letters.
 */
export function useFleetFilter() {
  const [query, setQuery] = useState(() => new URLSearchParams(window.location.search))
  const within = query.get('within')
  const filter: FleetFilter = {
    search: query.get('q') ?? '',
    pontoon: query.get('pontoon') ?? '',
    alloy: ALLOYS.find((alloy) => alloy === query.get('alloy')) ?? '',
    dueWithinDays: within !== null && /^\d{1,5}$/.test(within) ? Number(within) : null,
  }
  const order = FLEET_ORDERS.find((known) => known === query.get('sort')) ?? 'replacement'
  const apply = (next: URLSearchParams) => {
    setQuery(next)
    window.history.replaceState(window.history.state, '', next.size === 0 ? '/' : `/?${next}`)
  }
  const change = (name: string, value: string) => {
    const next = new URLSearchParams(query)
    if (value === '') next.delete(name)
    else next.set(name, value)
    apply(next)
  }
  return { filter, order, change, clear: () => apply(new URLSearchParams()) }
}

interface FleetFiltersProps {
  filter: FleetFilter
  order: FleetOrder
  pontoons: readonly string[]
  change: (name: string, value: string) => void
}

export function FleetFilters({ filter, order, pontoons, change }: FleetFiltersProps) {
  const id = useId()
  const narrowed = [filter.pontoon, filter.alloy].some((value) => value !== '') || filter.dueWithinDays !== null
  const [open, setOpen] = useState(narrowed)
  return (
    <search className={open ? 'fleet-filters fleet-filters-open' : 'fleet-filters'}>
      <div className="field fleet-search">
        <label htmlFor={id}>Find a boat or berth</label>
        <input id={id} type="search" value={filter.search} onChange={(event) => change('q', event.target.value)} />
      </div>
      <button type="button" className="button fleet-more" aria-expanded={open} onClick={() => setOpen(!open)}>
        {open ? 'Fewer filters' : 'Filter and order'}
      </button>
      <Choice
        label="Pontoon"
        value={filter.pontoon}
        choices={[['', 'All'], ...pontoons.map((name) => [name, name] as const)]}
        onChange={(value) => change('pontoon', value)}
      />
      <Choice
        label="Alloy"
        value={filter.alloy}
        choices={[['', 'All'], ...ALLOYS.map((alloy) => [alloy, capital(alloy)] as const)]}
        onChange={(value) => change('alloy', value)}
      />
      <Choice
        label="Due within"
        value={filter.dueWithinDays === null ? '' : String(filter.dueWithinDays)}
        choices={DUE_CHOICES}
        onChange={(value) => change('within', value)}
      />
      <Choice
        label="Order"
        value={order}
        choices={FLEET_ORDERS.map((each) => [each, ORDER_WORDS[each]] as const)}
        onChange={(value) => change('sort', value === 'replacement' ? '' : value)}
      />
    </search>
  )
}

interface ChoiceProps {
  label: string
  value: string
  choices: readonly (readonly [value: string, text: string])[]
  onChange: (value: string) => void
}

function Choice({ label, value, choices, onChange }: ChoiceProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        {choices.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </div>
  )
}
