import { lazy, Suspense, useMemo, useState } from 'react'
import { useGalvanicAudit } from '../../../api/galvanic.js'
import { useFittings, usePotentials } from '../../../api/readings.js'
import { sayDay } from '../../../wording/days.js'
import { sayNumber } from '../../../wording/locale.js'
import { sayReason } from '../../../wording/reasons.js'
import { capital } from '../../../wording/things.js'
import { t } from '../boat-words.js'
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
      <h2 id="potentials">{t('potential.title')}</h2>
      {all.length > 1 && <Subjects all={all} shown={shown} choose={setChosen} />}
      {shown.readings.length > 0 && <Chart series={shown} />}
      {verdict && (
        <p>{t('potential.last', { day: sayDay(verdict.measuredAt.slice(0, 10)), reason: sayReason(verdict) })}</p>
      )}
      {shown.unknownReference > 0 && (
        <p className="soft">{t('potential.unknown', { count: shown.unknownReference })}</p>
      )}
      {shown.readings.length > 0 && <Readings readings={shown.readings} />}
    </section>
  )
}

function nameOf(fitting: string | null): string {
  return fitting === null ? t('potential.hull') : capital(fitting)
}

interface SubjectsProps {
  all: readonly PotentialSeries[]
  shown: PotentialSeries
  choose: (fitting: string | null) => void
}

function Subjects({ all, shown, choose }: SubjectsProps) {
  return (
    <fieldset className="field">
      <legend>{t('potential.subject')}</legend>
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
  const within = band === null ? t('potential.noBand') : sayBand(band)
  const label = t('potential.label', { what: nameOf(series.fitting), count: series.readings.length, within })
  return (
    <>
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <PotentialPlot series={series} label={label} />
      </Suspense>
      <ul className="plot-key small" aria-label={t('potential.key')}>
        <li className="key-connected">{t('potential.leadOn')}</li>
        <li className="key-disconnected">{t('potential.leadOff')}</li>
        {series.readings.some(({ shorePower }) => shorePower === null) && (
          <li className="key-not-noted">{t('potential.leadNotNoted')}</li>
        )}
        {band && <li className="key-band">{t('potential.protected')}</li>}
      </ul>
      <p className="soft small">
        {within} {t('potential.note')}
      </p>
    </>
  )
}

function sayBand({ protectedAtOrBelowV, notBelowV }: NonNullable<PotentialSeries['band']>): string {
  const upper = volts(protectedAtOrBelowV, 2)
  return notBelowV === undefined
    ? t('potential.band', { upper })
    : t('potential.bandHarm', { upper, lower: volts(notBelowV, 2) })
}

function Readings({ readings }: { readings: readonly ChartedReading[] }) {
  return (
    <details className="fold">
      <summary>{t('potential.table', { count: readings.length })}</summary>
      <table>
        <thead>
          <tr>
            <th scope="col">{t('potential.day')}</th>
            <th scope="col">V, Ag/AgCl</th>
            <th scope="col">{t('potential.asRead')}</th>
            <th scope="col">{t('potential.lead')}</th>
          </tr>
        </thead>
        <tbody>
          {readings.toReversed().map(({ id, at, volts: converted, read, shorePower }) => (
            <tr key={id}>
              <td>{sayDay(at.toISOString().slice(0, 10))}</td>
              <td>{volts(converted, 3)}</td>
              <td>
                {volts(read.volts, 3)} <span className="soft">{t(`potential.electrode.${read.reference}`)}</span>
              </td>
              <td>{t(`potential.state.${shorePower ?? 'notNoted'}`)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

function volts(value: number, decimals: number): string {
  return sayNumber(value, decimals).replace('-', '−')
}
