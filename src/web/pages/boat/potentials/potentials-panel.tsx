import { lazy, Suspense, useMemo, useState } from 'react'
import type { ReferenceElectrode } from '../../../../contract/vocabulary.js'
import { useGalvanicAudit } from '../../../api/galvanic.js'
import { useFittings, usePotentials } from '../../../api/readings.js'
import { count, sayDay } from '../../../wording/days.js'
import { sayNumber } from '../../../wording/locale.js'
import { capital } from '../../../wording/words.js'
import { type ChartedReading, type PotentialSeries, potentialSeries } from './potential-data.js'
import './potentials.css'

const PotentialPlot = lazy(() => import('./potential-plot.js'))

/** What was read with an electrode, thing by thing, against the band in which it counts as protected. */
export function PotentialsPanel({ boat }: { boat: string }) {
  const [chosen, setChosen] = useState<string | null | undefined>()
  const potentials = usePotentials(boat).data
  const fittings = useFittings(boat).data
  const audit = useGalvanicAudit(boat).data
  const all = useMemo(
    () => (potentials && fittings && audit ? potentialSeries(potentials, { ...audit, fittings }) : []),
    [potentials, fittings, audit],
  )
  const shown = all.find(({ fitting }) => fitting === chosen) ?? all[0]
  if (shown === undefined) return null
  const verdict = audit?.potentials.find(({ fitting }) => fitting === shown.fitting)
  return (
    <section className="panel stack-tight" aria-labelledby="potentials">
      <h2 id="potentials">Potentials</h2>
      {all.length > 1 && <Subjects all={all} shown={shown} choose={setChosen} />}
      {shown.readings.length > 0 && <Chart series={shown} />}
      {verdict && (
        <p>
          Last reading, {sayDay(verdict.measuredAt.slice(0, 10))}: {verdict.reason}
        </p>
      )}
      {shown.unknownReference > 0 && (
        <p className="soft">{count(shown.unknownReference, 'reading')} against an electrode that nobody noted.</p>
      )}
      {shown.readings.length > 0 && <Readings readings={shown.readings} />}
    </section>
  )
}

function nameOf(fitting: string | null): string {
  return fitting === null ? 'Bonded hull' : capital(fitting)
}

interface SubjectsProps {
  all: readonly PotentialSeries[]
  shown: PotentialSeries
  choose: (fitting: string | null) => void
}

function Subjects({ all, shown, choose }: SubjectsProps) {
  return (
    <fieldset className="field">
      <legend>What was read</legend>
      <div className="chips">
        {all.map(({ fitting }) => (
          <label key={fitting ?? ''} className="chip">
            <input
              type="radio"
              name="potential-subject"
              checked={fitting === shown.fitting}
              onChange={() => choose(fitting)}
            />
            <span>{nameOf(fitting)}</span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}

function Chart({ series }: { series: PotentialSeries }) {
  const band = series.band
  const within = band === null ? 'No band of protection is known for it here.' : sayBand(band)
  const label = `Potentials of the ${nameOf(series.fitting).toLowerCase()}: ${count(series.readings.length, 'reading')}. ${within}`
  return (
    <>
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <PotentialPlot series={series} label={label} />
      </Suspense>
      <ul className="plot-key small" aria-label="Key of the chart">
        <li className="key-connected">shore lead connected</li>
        <li className="key-disconnected">shore lead disconnected</li>
        {series.readings.some(({ shorePower }) => shorePower === null) && (
          <li className="key-not-noted">shore lead not noted</li>
        )}
        {band && <li className="key-band">protected</li>}
      </ul>
      <p className="soft small">
        {within} All converted to silver/silver chloride in seawater; a zinc electrode is good to 0.03 V.
      </p>
    </>
  )
}

function sayBand({ protectedAtOrBelowV, notBelowV }: NonNullable<PotentialSeries['band']>): string {
  const upper = `Protected at ${volts(protectedAtOrBelowV, 2)} V or below`
  return notBelowV === undefined ? `${upper}.` : `${upper}, harm below ${volts(notBelowV, 2)} V.`
}

function Readings({ readings }: { readings: readonly ChartedReading[] }) {
  return (
    <details className="fold">
      <summary>{count(readings.length, 'reading')} as a table</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col">V, Ag/AgCl</th>
            <th scope="col">As read</th>
            <th scope="col">Shore lead</th>
          </tr>
        </thead>
        <tbody>
          {readings.toReversed().map(({ id, at, volts: converted, read, shorePower }) => (
            <tr key={id}>
              <td>{sayDay(at.toISOString().slice(0, 10))}</td>
              <td>{volts(converted, 3)}</td>
              <td>
                {volts(read.volts, 3)} <span className="soft">{ELECTRODE_WORDS[read.reference]}</span>
              </td>
              <td>{shorePower ?? 'not noted'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

const ELECTRODE_WORDS = {
  'ag-agcl-seawater': 'silver/silver chloride',
  sce: 'calomel',
  cse: 'copper sulfate',
  zinc: 'zinc',
} as const satisfies Record<ReferenceElectrode, string>

function volts(value: number, decimals: number): string {
  return sayNumber(value, decimals).replace('-', '−')
}
