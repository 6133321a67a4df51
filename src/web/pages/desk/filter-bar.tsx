import { useEffect, useId, useState } from 'react'
import { ALLOYS, POSITION_KINDS } from '../../../contract/vocabulary.js'
import { useBerths } from '../../api/boats.js'
import { Choice, Entry } from './choice.js'
import { sayAlloy, sayPosition, sayShare, useDeskWords } from './desk-words.js'
import { type DeskQuery, FILTERS } from './use-desk-query.js'

const RISKS = ['0.05', '0.1', '0.2', '0.5', '0.9'] as const
const SORTS = ['due', 'recommended', 'risk', 'boat', 'berth'] as const
/** Typing that pauses so long has said what it looks for [ms]. */
const TYPING_PAUSE_MS = 250

interface FilterBarProps {
  desk: DeskQuery
  hasOrder?: true
}

/** Which boats are shown, and in which order. On a phone all but the search is folded away. */
export function FilterBar({ desk, hasOrder }: FilterBarProps) {
  const t = useDeskWords()
  const [isOpen, setIsOpen] = useState(FILTERS.some((name) => name !== 'text' && desk.get(name) !== ''))
  return (
    <search className="desk-filters" data-open={isOpen}>
      <SearchField desk={desk} />
      <button
        type="button"
        className="button desk-filters-more"
        aria-expanded={isOpen}
        onClick={() => setIsOpen(!isOpen)}
      >
        {isOpen ? t('filter.less') : t('filter.more')}
      </button>
      <PlaceChoices desk={desk} />
      <KindChoices desk={desk} />
      <Entry
        label={t('filter.dueBefore')}
        type="date"
        value={desk.get('dueBefore')}
        onChange={(dueBefore) => desk.set({ dueBefore })}
      />
      <Choice
        label={t('filter.risk')}
        value={desk.get('riskAbove')}
        choices={[['', t('filter.all')], ...RISKS.map((risk) => [risk, sayShare(Number(risk), t)] as const)]}
        onChange={(riskAbove) => desk.set({ riskAbove })}
      />
      <Choice
        label={t('filter.findings')}
        value={desk.get('openFindings')}
        choices={[
          ['', t('filter.all')],
          ['yes', t('filter.with')],
          ['no', t('filter.without')],
        ]}
        onChange={(openFindings) => desk.set({ openFindings })}
      />
      {hasOrder && <OrderChoice desk={desk} />}
    </search>
  )
}

/** The address follows when typing pauses: quick typing would lose letters to it. */
function SearchField({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const id = useId()
  const shown = desk.get('text')
  const [typed, setTyped] = useState(shown)
  const [last, setLast] = useState(shown)
  if (last !== shown) {
    // A saved view was opened, or the filters were cleared.
    setLast(shown)
    setTyped(shown)
  }
  useEffect(() => {
    if (typed === shown) return
    const timer = setTimeout(() => {
      setLast(typed)
      desk.set({ text: typed })
    }, TYPING_PAUSE_MS)
    return () => clearTimeout(timer)
  }, [typed, shown, desk])
  return (
    <div className="field desk-search">
      <label htmlFor={id}>{t('filter.text')}</label>
      <input id={id} type="search" value={typed} onChange={(event) => setTyped(event.target.value)} />
    </div>
  )
}

function PlaceChoices({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const berths = useBerths().data ?? []
  const pontoon = desk.get('pontoon')
  const pontoons = [...new Set(berths.flatMap((berth) => berth.pontoon ?? []))].sort(byName)
  const names = berths.filter((berth) => pontoon === '' || berth.pontoon === pontoon).map(({ name }) => name)
  return (
    <>
      <Choice
        label={t('filter.pontoon')}
        value={pontoon}
        choices={[['', t('filter.all')], ...pontoons.map((name) => [name, name] as const)]}
        onChange={(next) => desk.set({ pontoon: next, berth: '' })}
      />
      <Choice
        label={t('filter.berth')}
        value={desk.get('berth')}
        choices={[['', t('filter.all')], ...names.sort(byName).map((name) => [name, name] as const)]}
        onChange={(berth) => desk.set({ berth })}
      />
    </>
  )
}

/** "B2" before "B10". */
const byName = new Intl.Collator('en', { numeric: true }).compare

function KindChoices({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  return (
    <>
      <Choice
        label={t('filter.alloy')}
        value={desk.get('alloy')}
        choices={[['', t('filter.all')], ...ALLOYS.map((alloy) => [alloy, sayAlloy(alloy, t)] as const)]}
        onChange={(alloy) => desk.set({ alloy })}
      />
      <Choice
        label={t('filter.position')}
        value={desk.get('position')}
        choices={[['', t('filter.all')], ...POSITION_KINDS.map((kind) => [kind, sayPosition(kind, t)] as const)]}
        onChange={(position) => desk.set({ position })}
      />
    </>
  )
}

function OrderChoice({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  // The largest risk first: nobody looks for the smallest.
  const value = (sort: (typeof SORTS)[number]) => (sort === 'risk' ? '-risk' : sort)
  return (
    <Choice
      label={t('filter.sort')}
      value={desk.get('sort') || 'due'}
      choices={SORTS.map((sort) => [value(sort), t(`sort.${sort}`)] as const)}
      onChange={(sort) => desk.set({ sort: sort === 'due' ? '' : sort })}
    />
  )
}
