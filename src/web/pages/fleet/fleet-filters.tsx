import { useId, useState } from 'react'
import { ALLOYS } from '../../../contract/vocabulary.js'
import { sayTimeOf } from '../../wording/days.js'
import { sayWord } from '../../wording/spoken.js'
import { capital } from '../../wording/things.js'
import { FLEET_ORDERS, type FleetFilter, type FleetOrder } from './fleet-rows.js'
import { t } from './fleet-words.js'

const dueChoices = (): readonly (readonly [days: string, text: string])[] => [
  ['', t('due.any')],
  ['0', t('due.already')],
  ['30', sayTimeOf(30, 'day')],
  ['91', sayTimeOf(3, 'month')],
  ['182', sayTimeOf(6, 'month')],
  ['365', sayTimeOf(1, 'year')],
]

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
        <label htmlFor={id}>{t('search')}</label>
        <input id={id} type="search" value={filter.search} onChange={(event) => change('q', event.target.value)} />
      </div>
      <button type="button" className="button fleet-more" aria-expanded={open} onClick={() => setOpen(!open)}>
        {open ? t('fewer') : t('filter')}
      </button>
      <Choice
        label={t('pontoon')}
        value={filter.pontoon}
        choices={[['', t('all')], ...pontoons.map((name) => [name, name] as const)]}
        onChange={(value) => change('pontoon', value)}
      />
      <Choice
        label={t('alloy')}
        value={filter.alloy}
        choices={[['', t('all')], ...ALLOYS.map((alloy) => [alloy, capital(sayWord(`alloy.${alloy}`))] as const)]}
        onChange={(value) => change('alloy', value)}
      />
      <Choice
        label={t('dueWithin')}
        value={filter.dueWithinDays === null ? '' : String(filter.dueWithinDays)}
        choices={dueChoices()}
        onChange={(value) => change('within', value)}
      />
      <Choice
        label={t('order')}
        value={order}
        choices={FLEET_ORDERS.map((each) => [each, t(`orderBy.${each}`)] as const)}
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
