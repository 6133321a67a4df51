import { memo } from 'react'
import { Link } from 'react-router'
import type { DepletionPage, DepletionStrip } from '../../../contract/desk.js'
import { useDeskDepletion } from '../../api/desk.js'
import { Choice } from './choice.js'
import { DepletionBars } from './depletion-bars.js'
import { DepletionFigures } from './depletion-figures.js'
import { DeskState } from './desk-state.js'
import { sayInitial, sayMonth, sayShare, useDeskWords, yearAt } from './desk-words.js'
import { ListFrame } from './list-frame.js'
import { type DeskQuery, filtersOf } from './use-desk-query.js'
import { VirtualList } from './virtual-list.js'
import './depletion.css'

const ROW_HEIGHT = 59
const WHOLE_FLEET = 2000
/** The month of today: twelve lie behind it. */
const THIS_MONTH = 12

/** The worst anode of each boat over two years, a strip a boat; or the same in figures. */
export function DepletionSection({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const filter = filtersOf(desk.query, ['sort'])
  const list = useDeskDepletion(filter)
  const [first] = list.data?.pages ?? []
  if (first === undefined) return <DeskState of={list} />
  const rows = list.data?.pages.flatMap(({ items }) => items) ?? []
  const isFigures = desk.get('show') === 'figures'
  const file = `/v1/desk/depletion.csv?${new URLSearchParams([...filter, ['limit', String(WHOLE_FLEET)]])}`
  return (
    <>
      <p className="soft small desk-note">{t('depletion.note')}</p>
      <StripKey />
      <ListFrame
        desk={desk}
        shown={first.total}
        file={file}
        controls={<ShowChoice desk={desk} isFigures={isFigures} />}
      >
        {isFigures ? (
          <DepletionFigures rows={rows} months={first.months} total={first.total} />
        ) : (
          <div className="desk-strips">
            <StripHead months={first.months} />
            <VirtualList
              key={filter.toString()}
              label={t('tab.depletion')}
              rows={rows}
              total={first.total}
              keyOf={({ boat }) => boat}
              height={ROW_HEIGHT}
            >
              {(row) => <StripCells row={row} months={first.months} />}
            </VirtualList>
          </div>
        )}
      </ListFrame>
    </>
  )
}

function ShowChoice({ desk, isFigures }: { desk: DeskQuery; isFigures: boolean }) {
  const t = useDeskWords()
  return (
    <Choice
      label={t('depletion.show')}
      value={isFigures ? 'figures' : 'bars'}
      choices={[
        ['bars', t('depletion.bars')],
        ['figures', t('depletion.figures')],
      ]}
      onChange={(show) => desk.set({ show: show === 'bars' ? '' : show })}
    />
  )
}

function StripHead({ months }: Pick<DepletionPage, 'months'>) {
  const t = useDeskWords()
  return (
    <div className="desk-head label" aria-hidden="true">
      <div className="desk-row">
        <span>{t('depletion.boat')}</span>
        <span className="desk-months">
          {months.map((month, index) => (
            <span key={month} className={index === THIS_MONTH ? 'desk-now' : ''}>
              <small>{yearAt(months, index)}</small>
              {sayInitial(month)}
            </span>
          ))}
        </span>
      </div>
    </div>
  )
}

/** Drawn once a boat: scrolling draws those alone that come in. */
const StripCells = memo(function StripCells({ row, months }: { row: DepletionStrip; months: DepletionPage['months'] }) {
  const said = useStripSentence(row, months)
  return (
    <>
      <div className="desk-boat">
        <Link to={`/boats/${encodeURIComponent(row.boat)}`}>{row.boat}</Link>
        <span className="soft small">{row.berth}</span>
      </div>
      <DepletionBars row={row} months={months} label={said} />
    </>
  )
})

/** What the strip shows, for whoever hears it. */
function useStripSentence(row: DepletionStrip, months: DepletionPage['months']): string {
  const t = useDeskWords()
  const consumed = row.consumed[THIS_MONTH]
  if (consumed === null || consumed === undefined) return t('depletion.unknown', { boat: row.boat })
  const crossing = row.used.findIndex((used, index) => index >= THIS_MONTH && (used ?? 0) >= 1)
  return t('depletion.sentence', {
    boat: row.boat,
    anode: row.anode[THIS_MONTH],
    percent: sayShare(consumed, t),
    month: sayMonth(months[THIS_MONTH]!),
    due: crossing < 0 ? t('depletion.notDue') : t('depletion.dueIn', { month: sayMonth(months[crossing]!) }),
  })
}

function StripKey() {
  const t = useDeskWords()
  return (
    <ul className="desk-key small">
      {(['low', 'mid', 'due'] as const).map((grade) => (
        <li key={grade}>
          <svg viewBox="0 0 10 16" width="10" height="16" aria-hidden="true">
            <rect className="strip-ground" width="10" height="16" />
            <rect
              className={`strip-${grade}`}
              y={{ low: 10, mid: 5, due: 0 }[grade]}
              width="10"
              height={{ low: 6, mid: 11, due: 16 }[grade]}
            />
          </svg>
          {t(`depletion.key.${grade}`)}
        </li>
      ))}
      <li>▲ {t('depletion.key.lift')}</li>
      <li>△ {t('depletion.key.planned')}</li>
      <li>
        <span className="desk-key-now" /> {t('depletion.key.now')}
      </li>
    </ul>
  )
}
