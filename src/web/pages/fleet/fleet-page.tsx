import { useDeferredValue, useMemo } from 'react'
import { Trans } from 'react-i18next'
import { Link, useLocation } from 'react-router'
import { useBerths } from '../../api/boats.js'
import { type Finding, useFindings } from '../../api/findings.js'
import { type Forecast, useForecasts } from '../../api/forecasts.js'
import { useMe } from '../../api/session.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Caution } from '../../shell/caution.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { sayDay } from '../../wording/days.js'
import { findingsByBoat } from './boat-tags.js'
import { type DateAxis, fleetAxis } from './date-axis.js'
import { DateScale } from './date-bar.js'
import { FleetFilters, useFleetFilter } from './fleet-filters.js'
import { FleetRowItem } from './fleet-row.js'
import { type FleetRow, fleetRows, isDueWithin, narrowRows, orderRows } from './fleet-rows.js'
import { t } from './fleet-words.js'
import './fleet.css'

/** A quarter of a year: how far ahead a yard books its lifts, common practice. */
const SOON_DAYS = 91

const NOTHING_FOUND: readonly Finding[] = []

/** The fleet by what is due first. */
export function FleetPage() {
  useAreas('fleet', 'findings', 'words')
  const forecasts = useForecasts()
  const berths = useBerths()
  const { key } = useLocation()
  if (forecasts.isPending) return <Waiting />
  if (forecasts.isError) return <Trouble error={forecasts.error} retry={forecasts.refetch} />
  const pontoonOf = new Map(berths.data?.flatMap(({ name, pontoon }) => (pontoon ? [[name, pontoon] as const] : [])))
  return (
    <div className="page">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <Fleet key={key} forecasts={forecasts.data} pontoonOf={pontoonOf} />
    </div>
  )
}

/** What is not settled on each boat; empty until it is known. */
function useFindingsByBoat() {
  const { data } = useFindings('unsettled')
  return useMemo(() => findingsByBoat(data ?? NOTHING_FOUND), [data])
}

interface FleetProps {
  forecasts: readonly Forecast[]
  pontoonOf: ReadonlyMap<string, string>
}

function Fleet({ forecasts, pontoonOf }: FleetProps) {
  const { filter, order, change, clear } = useFleetFilter()
  const rows = useMemo(() => fleetRows(forecasts, pontoonOf), [forecasts, pontoonOf])
  const findings = useFindingsByBoat()
  const search = useDeferredValue(filter.search)
  const shown = orderRows(narrowRows(rows, { ...filter, search }), order)
  const [first] = forecasts
  if (first === undefined) return <EmptyFleet />
  const axis = fleetAxis(first.asOf)
  return (
    <>
      <Headline rows={rows} forecasts={forecasts} asOf={first.asOf} />
      <FleetFilters
        filter={filter}
        order={order}
        pontoons={[...new Set(rows.flatMap((row) => row.pontoon ?? []))].toSorted()}
        change={change}
      />
      <p className="soft small" role="status">
        {shown.length === rows.length
          ? t('boats', { count: rows.length })
          : t('someOf', { count: rows.length, shown: shown.length })}
      </p>
      <FleetTable rows={shown} axis={axis} asOf={first.asOf} findings={findings} clear={clear} />
      <Legend />
    </>
  )
}

interface FleetTableProps {
  rows: readonly FleetRow[]
  axis: DateAxis
  asOf: string
  findings: ReadonlyMap<string, readonly Finding[]>
  clear: () => void
}

function FleetTable({ rows, axis, asOf, findings, clear }: FleetTableProps) {
  return (
    <div className="fleet">
      <div className="fleet-head label" aria-hidden="true">
        <span>{t('boat')}</span>
        <span>{t('first')}</span>
        <span>{t('replaceBy')}</span>
        <DateScale axis={axis} asOf={asOf} />
        <span>{t('risk')}</span>
      </div>
      <ol className="fleet-list">
        {rows.map((row) => (
          <FleetRowItem key={row.boat} row={row} axis={axis} findings={findings.get(row.boat) ?? NOTHING_FOUND} />
        ))}
      </ol>
      {rows.length === 0 && (
        <p className="fleet-none">
          {t('none')}{' '}
          <button type="button" className="button" onClick={clear}>
            {t('showAll')}
          </button>
        </p>
      )}
    </div>
  )
}

function Headline({
  rows,
  forecasts,
  asOf,
}: {
  rows: readonly FleetRow[]
  forecasts: readonly Forecast[]
  asOf: string
}) {
  const soon = forecasts.filter((forecast) => isDueWithin(forecast, SOON_DAYS)).length
  const fast = rows.filter((row) => row.wear.fast > 0).length
  return (
    <div className="stack">
      <div>
        <h1>{t('title')}</h1>
        <p className="soft">
          {t('asOf', { anodes: t('anodes', { count: forecasts.length }), count: rows.length, day: sayDay(asOf) })}{' '}
          <strong>{t('soon', { count: soon })}</strong>
        </p>
      </div>
      {fast > 0 && (
        <Caution grade="stop">
          <strong>{t('fast', { count: fast })}</strong> {t('leak')} <Link to="/findings">{t('whatWasFound')}</Link>
        </Caution>
      )}
    </div>
  )
}

function Legend() {
  return <p className="fleet-legend soft small">{t('legend')}</p>
}

function EmptyFleet() {
  const mayAdd = useMe().data?.permissions.includes('fleet:import') ?? false
  return (
    <div className="panel stack">
      <h1>{t('empty.title')}</h1>
      <p>
        {mayAdd ? (
          <Trans t={t} i18nKey="empty.text" components={{ 1: <Link to="/set-up/fleet" /> }} />
        ) : (
          t('empty.wait')
        )}
      </p>
    </div>
  )
}
