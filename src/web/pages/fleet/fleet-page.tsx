import { useDeferredValue, useMemo } from 'react'
import { Link, useLocation } from 'react-router'
import { useBerths } from '../../api/boats.js'
import { type Finding, useFindings } from '../../api/findings.js'
import { type Forecast, useForecasts } from '../../api/forecasts.js'
import { Caution } from '../../shell/caution.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { count, sayDay } from '../../wording/days.js'
import { findingsByBoat } from './boat-tags.js'
import { type DateAxis, fleetAxis } from './date-axis.js'
import { DateScale } from './date-bar.js'
import { FleetFilters, useFleetFilter } from './fleet-filters.js'
import { FleetRowItem } from './fleet-row.js'
import { type FleetRow, fleetRows, isDueWithin, narrowRows, orderRows } from './fleet-rows.js'
import './fleet.css'

/** A quarter of a year: how far ahead a yard books its lifts, common practice. */
const SOON_DAYS = 91

const NOTHING_FOUND: readonly Finding[] = []

/** The fleet by what is due first. */
export function FleetPage() {
  const forecasts = useForecasts()
  const berths = useBerths()
  const { key } = useLocation()
  if (forecasts.isPending) return <Waiting />
  if (forecasts.isError) return <Trouble error={forecasts.error} retry={forecasts.refetch} />
  const pontoonOf = new Map(berths.data?.flatMap(({ name, pontoon }) => (pontoon ? [[name, pontoon] as const] : [])))
  return (
    <div className="page">
      <title>Fleet · Anode Ledger</title>
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
        {shown.length === rows.length ? count(rows.length, 'boat') : `${shown.length} of ${count(rows.length, 'boat')}`}
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
        <span>Boat</span>
        <span>Anode due first</span>
        <span>Replace by</span>
        <DateScale axis={axis} asOf={asOf} />
        <span>Risk before haul-out</span>
      </div>
      <ol className="fleet-list">
        {rows.map((row) => (
          <FleetRowItem key={row.boat} row={row} axis={axis} findings={findings.get(row.boat) ?? NOTHING_FOUND} />
        ))}
      </ol>
      {rows.length === 0 && (
        <p className="fleet-none">
          No boat matches.{' '}
          <button type="button" className="button" onClick={clear}>
            Show all boats
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
        <h1>Fleet</h1>
        <p className="soft">
          {count(forecasts.length, 'anode')} on {count(rows.length, 'boat')}, as of {sayDay(asOf)}.{' '}
          <strong>{soon === 0 ? 'None' : soon} expected due within 3 months.</strong>
        </p>
      </div>
      {fast > 0 && (
        <Caution grade="stop">
          <strong>{count(fast, 'boat')} wasting anodes abnormally fast.</strong> A leak of current may be behind it:
          nobody in the water near such a boat, shore power off, call a qualified marine electrician.{' '}
          <Link to="/findings">What was found</Link>
        </Caution>
      )}
    </div>
  )
}

function Legend() {
  return (
    <p className="fleet-legend soft small">
      The bar spans the dates between which 8 of 10 such anodes reach their threshold; the upright mark is the middle,
      the thin line today, the triangle the next haul-out. “Replace by” is the last planned haul-out that keeps the risk
      of being too late at or below 10 %.
    </p>
  )
}

function EmptyFleet() {
  return (
    <div className="panel stack">
      <h1>No forecasts yet</h1>
      <p>
        They appear a few seconds after the first boats, anodes and weighings are loaded. Load a fleet from CSV files
        with <code>npm run import -- FOLDER</code> or <code>POST /v1/imports</code>.
      </p>
    </div>
  )
}
