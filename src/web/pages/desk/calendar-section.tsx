import { Link } from 'react-router'
import type { DeskCalendar, DueAnode } from '../../../contract/desk.js'
import { useDeskCalendar } from '../../api/desk.js'
import { sayDay } from '../../wording/days.js'
import { Choice } from './choice.js'
import { DeskState } from './desk-state.js'
import { sayMonth, sayPosition, useDeskWords } from './desk-words.js'
import { type DeskQuery, filtersOf } from './use-desk-query.js'

const PERIODS = { month: '12', week: '26' } as const

/** What is due in each month or week, and what is lifted. The bars stand in the table that holds their figures. */
export function CalendarSection({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const by = desk.get('by') === 'week' ? 'week' : 'month'
  const filter = filtersOf(desk.query)
  filter.set('by', by)
  filter.set('periods', PERIODS[by])
  const calendar = useDeskCalendar(filter)
  return (
    <>
      <div className="desk-sum">
        <Choice
          label={t('calendar.by')}
          value={by}
          choices={[
            ['month', t('calendar.month')],
            ['week', t('calendar.week')],
          ]}
          onChange={(next) => desk.set({ by: next === 'month' ? '' : next })}
        />
        <a className="button button-plain" href={`/v1/desk/calendar.csv?${filter}`} download>
          {t('csv')}
        </a>
      </div>
      <DeskState of={calendar} />
      {calendar.data && <Periods calendar={calendar.data} by={by} />}
    </>
  )
}

interface ShownPeriod {
  readonly name: string
  readonly due: readonly DueAnode[]
  readonly lifts: DeskCalendar['periods'][number]['lifts']
}

function Periods({ calendar, by }: { calendar: DeskCalendar; by: 'month' | 'week' }) {
  const t = useDeskWords()
  const liftsOf = liftsByBoat(calendar)
  const shown: ShownPeriod[] = [
    { name: t('calendar.overdue'), due: calendar.overdue, lifts: [] },
    ...calendar.periods.map(({ from, due, lifts }) => ({
      name: by === 'month' ? sayMonth(from) : t('calendar.week_of', { day: sayDay(from) }),
      due,
      lifts,
    })),
  ]
  const most = Math.max(1, ...shown.map(({ due }) => due.length))
  return (
    <>
      <table className="desk-calendar">
        <thead>
          <tr>
            <th scope="col">{t('calendar.period')}</th>
            <th scope="col">{t('calendar.due')}</th>
            <th scope="col">{t('calendar.lifts')}</th>
          </tr>
        </thead>
        <tbody>
          {shown.map((period) => (
            <PeriodRow key={period.name} period={period} most={most} liftsOf={liftsOf} />
          ))}
        </tbody>
      </table>
      <p className="soft small desk-note">{t('calendar.bar')}</p>
    </>
  )
}

type LiftsOf = ReadonlyMap<string, readonly string[]>

/** Days of the planned lifts of each boat, in order. */
function liftsByBoat({ periods }: DeskCalendar): LiftsOf {
  const lifts = new Map<string, string[]>()
  for (const { boat, on } of periods.flatMap((period) => period.lifts))
    lifts.set(boat, [...(lifts.get(boat) ?? []), on])
  return lifts
}

/** The last planned lift no later than the day on which an anode is due. */
function liftBefore({ boat, on }: DueAnode, lifts: LiftsOf): string | undefined {
  return lifts.get(boat)?.findLast((day) => day <= on)
}

function PeriodRow({ period, most, liftsOf }: { period: ShownPeriod; most: number; liftsOf: LiftsOf }) {
  const t = useDeskWords()
  const { name, due, lifts } = period
  const open = due.filter((each) => liftBefore(each, liftsOf) === undefined).length
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>
        <svg className="desk-bar" viewBox={`0 0 ${most} 10`} preserveAspectRatio="none" aria-hidden="true">
          <rect className="desk-bar-all" width={due.length} height="10" />
          <rect className="desk-bar-open" width={open} height="10" />
        </svg>
        {due.length === 0 ? (
          <span className="soft">{t('calendar.nothing')}</span>
        ) : (
          <details className="fold">
            <summary>
              <span className="unseen">{t('calendar.show', { period: name })}: </span>
              {t('anodes', { count: due.length })}
              {open > 0 && <span className="soft small">{t('calendar.openCount', { count: open })}</span>}
            </summary>
            <ul className="desk-plain">
              {due.map((each) => (
                <DueItem key={`${each.boat} ${each.anode}`} due={each} lift={liftBefore(each, liftsOf)} />
              ))}
            </ul>
          </details>
        )}
      </td>
      <td>
        {lifts.length === 0 ? (
          <span className="soft">{t('calendar.nothing')}</span>
        ) : (
          <ul className="desk-plain">
            {lifts.map(({ boat, on }) => (
              <li key={`${boat} ${on}`}>
                <Link to={`/boats/${encodeURIComponent(boat)}`}>{boat}</Link>{' '}
                <span className="soft small">{sayDay(on)}</span>
              </li>
            ))}
          </ul>
        )}
      </td>
    </tr>
  )
}

function DueItem({ due, lift }: { due: DueAnode; lift: string | undefined }) {
  const t = useDeskWords()
  return (
    <li>
      <Link to={`/boats/${encodeURIComponent(due.boat)}`}>{due.boat}</Link> {sayPosition(due.position, t)},{' '}
      {sayDay(due.on)}{' '}
      <span className="soft small">
        {lift === undefined ? t('calendar.unlifted') : t('calendar.lifted', { day: sayDay(lift) })}
      </span>
    </li>
  )
}
