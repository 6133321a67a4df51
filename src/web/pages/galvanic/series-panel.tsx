import { lazy, Suspense, useMemo, useState } from 'react'
import type { AnodeAlloy } from '../../../engine/reference/vocabulary.js'
import { within } from '../../wording/things.js'
import { Segments } from '../haul-out/choices.js'
import { sayList, sayVolts, t } from './galvanic-words.js'
import { type ChartScale, type MarkedMetal, type SeriesData, seriesData } from './series-data.js'

const SeriesPlot = lazy(() => import('./series-plot.js'))

interface SeriesPanelProps {
  marked: readonly MarkedMetal[]
  anodes: readonly AnodeAlloy[]
  /** What the marked metals are: "this boat's metals". */
  whose: string
}

/** The whole series is long: on a phone it begins with the marked metals. */
const isWide = () => window.matchMedia('(min-width: 700px)').matches

/** The galvanic series as a chart and as a table, with marked metals, the anodes and what is in hand. */
export function SeriesPanel({ marked, anodes, whose }: SeriesPanelProps) {
  const [scale, setScale] = useState<ChartScale>('ag-agcl-seawater')
  const [extent, setExtent] = useState<'whole' | 'marked'>(() => (isWide() ? 'whole' : 'marked'))
  const isWhole = extent === 'whole' || marked.length === 0
  const data = useMemo(() => seriesData({ marked, anodes, scale, isWhole }), [marked, anodes, scale, isWhole])
  return (
    <section className="panel stack" aria-labelledby="series">
      <h2 id="series">{t('series.title')}</h2>
      <div className="series-choices">
        <Segments
          label={t('series.against')}
          value={scale}
          choices={[
            ['ag-agcl-seawater', t('series.scale.ag-agcl-seawater')],
            ['sce', t('series.scale.sce')],
          ]}
          onChange={setScale}
        />
        {marked.length > 0 && (
          <Segments
            label={t('series.show')}
            value={extent}
            choices={[
              ['whole', t('series.all')],
              ['marked', whose],
            ]}
            onChange={setExtent}
          />
        )}
      </div>
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <SeriesPlot data={data} scale={scale} label={sayChart(data)} />
      </Suspense>
      <ul className="plot-key small" aria-label={t('series.key')}>
        <li className="key-metal">{t('series.free')}</li>
        <li className="key-active">{t('series.active')}</li>
        {marked.length > 0 && <li className="key-own">{within(whose)}</li>}
        {anodes.length > 0 && <li className="key-anode">{t('series.anode')}</li>}
        {data.bars.some(({ margin }) => margin !== null) && <li className="key-margin">{t('series.margin')}</li>}
      </ul>
      <SeriesTable data={data} />
    </section>
  )
}

function sayChart({ bars, anodes }: SeriesData): string {
  const own = bars.filter(({ mark }) => mark !== null).map(({ name, mark }) => `${name} (${mark})`)
  const of = anodes.map(({ alloy, volts }) => t('series.anodeAt', { alloy, volts }))
  return [
    t('series.label', { metals: bars.length }),
    ...(own.length === 0 ? [] : [t('series.marked', { metals: sayList(own) })]),
    ...(of.length === 0 ? [] : [t('series.anodes', { anodes: of.join(', ') })]),
  ].join(' ')
}

function SeriesTable({ data }: { data: SeriesData }) {
  const hasMarks = data.bars.some(({ mark }) => mark !== null)
  return (
    <details className="fold">
      <summary>{t('series.table')}</summary>
      <table className="series-table">
        <thead>
          <tr>
            <th scope="col">{t('series.metal')}</th>
            <th scope="col">{t('series.from')}</th>
            <th scope="col">{t('series.to')}</th>
            {hasMarks && <th scope="col">{t('series.here')}</th>}
          </tr>
        </thead>
        <tbody>
          {data.bars.map(({ metal, name, low, high, mark }) => (
            <tr key={metal}>
              <th scope="row">{name}</th>
              <td className="number">{sayVolts(low)}</td>
              <td className="number">{sayVolts(high)}</td>
              {hasMarks && <td>{mark}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
