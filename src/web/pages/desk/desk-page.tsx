import { Link } from 'react-router'
import { useMe } from '../../api/session.js'
import { CalendarSection } from './calendar-section.js'
import { CompareSection } from './compare-section.js'
import { DepletionSection } from './depletion-section.js'
import { useDeskWords } from './desk-words.js'
import { FilterBar } from './filter-bar.js'
import { FleetSection } from './fleet-section.js'
import { PartsSection } from './parts-section.js'
import { PlanSection } from './plan-section.js'
import { SavedViewsBar, useDefaultView } from './saved-views-bar.js'
import { type DeskQuery, TABS, type Tab, useDeskQuery } from './use-desk-query.js'
import './desk.css'
import './desk-plan.css'
import './desk-rows.css'
import './desk-tables.css'

/** The fleet as a manager sees it: what is due, when to lift, what to order. */
export default function DeskPage() {
  const t = useDeskWords()
  const me = useMe()
  if (me.data?.role === 'owner') {
    return (
      <div className="page">
        <h1>{t('title')}</h1>
        <p>{t('forYard')}</p>
        <p>
          <Link className="button" to="/">
            {t('toFleet')}
          </Link>
        </p>
      </div>
    )
  }
  return <Desk />
}

function Desk() {
  const t = useDeskWords()
  const desk = useDeskQuery()
  useDefaultView(desk)
  return (
    <div className="page desk">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <h1>{t('title')}</h1>
      <Tabs desk={desk} />
      <SavedViewsBar desk={desk} />
      <Section desk={desk} />
    </div>
  )
}

function Tabs({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  return (
    <nav className="desk-tabs" aria-label={t('tabs')}>
      {TABS.map((tab) => (
        <Link key={tab} to={`?${withTab(desk.query, tab)}`} aria-current={tab === desk.tab ? 'page' : undefined}>
          {t(`tab.${tab}`)}
        </Link>
      ))}
    </nav>
  )
}

/** The same filters on another tab. */
function withTab(query: URLSearchParams, tab: Tab): URLSearchParams {
  const next = new URLSearchParams(query)
  next.set('tab', tab)
  return next
}

function Section({ desk }: { desk: DeskQuery }) {
  switch (desk.tab) {
    case 'fleet':
      return (
        <>
          <FilterBar desk={desk} hasOrder />
          <FleetSection desk={desk} />
        </>
      )
    case 'calendar':
      return (
        <>
          <FilterBar desk={desk} />
          <CalendarSection desk={desk} />
        </>
      )
    case 'depletion':
      return (
        <>
          <FilterBar desk={desk} hasOrder />
          <DepletionSection desk={desk} />
        </>
      )
    case 'compare':
      return <CompareSection desk={desk} />
    case 'plan':
      return <PlanSection desk={desk} />
    case 'parts':
      return <PartsSection desk={desk} />
  }
}
