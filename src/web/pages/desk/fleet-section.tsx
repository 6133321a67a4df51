import { memo } from 'react'
import { Link } from 'react-router'
import type { DeskBoat } from '../../../contract/desk.js'
import { useDeskBoats } from '../../api/desk.js'
import { sayDay, saySpan } from '../../wording/days.js'
import { AnodeGauge } from '../fleet/anode-gauge.js'
import { DeskState } from './desk-state.js'
import { sayAlloy, sayDayOrNever, sayPosition, sayShare, useDeskWords } from './desk-words.js'
import { ListFrame } from './list-frame.js'
import { RiskMark } from './risk-mark.js'
import { type DeskQuery, filtersOf } from './use-desk-query.js'
import { VirtualList } from './virtual-list.js'

/** About the height of a row on a desk, and of a card on a phone [px]. */
const HEIGHTS = { row: 81, card: 263 } as const
const WIDE = '(min-width: 900px)'
const WHOLE_FLEET = 2000

/** All boats, one a row. */
export function FleetSection({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const filter = filtersOf(desk.query, ['sort'])
  const list = useDeskBoats(filter)
  const [first] = list.data?.pages ?? []
  if (first === undefined) return <DeskState of={list} />
  const rows = list.data?.pages.flatMap(({ items }) => items) ?? []
  const file = `/v1/desk/boats.csv?${new URLSearchParams([...filter, ['limit', String(WHOLE_FLEET)]])}`
  return (
    <ListFrame desk={desk} shown={first.total} boats={first.boats} file={file}>
      <div className="desk-fleet">
        <div className="desk-head label" aria-hidden="true">
          <div className="desk-row">
            {(['boat', 'first', 'expected', 'replaceBy', 'risk', 'lift'] as const).map((column) => (
              <span key={column}>{t(`fleet.${column}`)}</span>
            ))}
          </div>
        </div>
        <VirtualList
          // Another order is another list: it is read from its start.
          key={filter.toString()}
          label={t('tab.fleet')}
          rows={rows}
          total={first.total}
          keyOf={({ boat }) => boat}
          height={window.matchMedia(WIDE).matches ? HEIGHTS.row : HEIGHTS.card}
        >
          {(row) => <FleetCells row={row} asOf={first.asOf} />}
        </VirtualList>
      </div>
      <p className="soft small desk-note">{t('fleet.note')}</p>
    </ListFrame>
  )
}

/** Drawn once a boat: scrolling draws those alone that come in. */
const FleetCells = memo(function FleetCells({ row, asOf }: { row: DeskBoat; asOf: string }) {
  const t = useDeskWords()
  const { first } = row
  return (
    <>
      <div className="desk-boat">
        <Link to={`/boats/${encodeURIComponent(row.boat)}`}>{row.boat}</Link>
        <span className="soft small">
          {row.berth === null ? t('fleet.noBerth') : [row.berth, row.pontoon].filter(Boolean).join(', ')}
        </span>
        <OpenFindings row={row} />
      </div>
      {first === null ? (
        <div className="desk-unforecast soft">{t('fleet.noForecast')}</div>
      ) : (
        <ForecastCells row={row} first={first} asOf={asOf} />
      )}
    </>
  )
})

interface ForecastCellsProps {
  row: DeskBoat
  first: NonNullable<DeskBoat['first']>
  asOf: string
}

function ForecastCells({ row, first, asOf }: ForecastCellsProps) {
  const t = useDeskWords()
  const isOverdue = row.recommendedOn !== null && row.recommendedOn <= asOf
  const { consumedNow, threshold, replace } = first
  const [consumed, dueAt] = [sayShare(Math.max(0, consumedNow), t), sayShare(threshold, t)]
  return (
    <>
      <div className="desk-first">
        <AnodeGauge consumed={consumedNow} threshold={threshold} />
        <span>
          <strong>{sayPosition(first.position, t)}</strong>
          <span className="soft small">
            {`${sayAlloy(first.alloy, t)}, ${t('fleet.consumed', { percent: consumed })}, ${t('fleet.dueAt', { percent: dueAt })}`}
          </span>
        </span>
      </div>
      <div>
        <span className="label">{t('fleet.expected')}</span>
        <strong>{sayDayOrNever(replace.p50, t)}</strong>
        <span className="soft small">{replace.p10 === null ? t('never') : saySpan(replace.p10, replace.p90)}</span>
      </div>
      <div>
        <span className="label">{t('fleet.replaceBy')}</span>
        <strong>{isOverdue ? t('fleet.now') : sayDayOrNever(row.recommendedOn, t)}</strong>
      </div>
      <div>
        <span className="label">{t('fleet.risk')}</span>
        {row.riskiest && <RiskMark risk={row.riskiest.risk} />}
        {row.riskiest && row.riskiest.anode !== first.anode && (
          <span className="soft small">{sayPosition(row.riskiest.position, t)}</span>
        )}
      </div>
      <div>
        <span className="label">{t('fleet.lift')}</span>
        {row.nextHaulOut && (
          <span className={row.nextHaulOut.planned ? '' : 'soft'}>
            {row.nextHaulOut.planned
              ? sayDay(row.nextHaulOut.on)
              : t('fleet.about', { day: sayDay(row.nextHaulOut.on) })}
          </span>
        )}
      </div>
    </>
  )
}

function OpenFindings({ row: { boat, openFindings } }: { row: DeskBoat }) {
  const t = useDeskWords()
  const [only] = openFindings
  if (only === undefined) return null
  const isFast = openFindings.some(({ direction }) => direction === 'fast')
  const to = openFindings.length === 1 ? `/findings/${only.id}` : `/findings?boat=${encodeURIComponent(boat)}`
  return (
    <Link className={isFast ? 'tag tag-fast' : 'tag tag-slow'} to={to}>
      {isFast ? '▲▲ ' : '◆ '}
      {isFast ? t('fleet.fast') : t('fleet.findings', { count: openFindings.length })}
    </Link>
  )
}
