import { lazy, Suspense, useMemo, useState } from 'react'
import type { AnodeAlloy } from '../../../engine/reference/vocabulary.js'
import { Segments } from '../haul-out/choices.js'
import { sayList, sayVolts } from './galvanic-words.js'
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
      <h2 id="series">Galvanic series</h2>
      <div className="series-choices">
        <Segments
          label="Read against"
          value={scale}
          choices={[
            ['ag-agcl-seawater', 'Ag/AgCl'],
            ['sce', 'Calomel'],
          ]}
          onChange={setScale}
        />
        {marked.length > 0 && (
          <Segments
            label="Show"
            value={extent}
            choices={[
              ['whole', 'All metals'],
              ['marked', whose],
            ]}
            onChange={setExtent}
          />
        )}
      </div>
      <Suspense fallback={<div className="plot plot-waiting" />}>
        <SeriesPlot data={data} scale={scale} label={sayChart(data)} />
      </Suspense>
      <ul className="plot-key small" aria-label="Key of the drawing">
        <li className="key-metal">free potential in flowing seawater</li>
        <li className="key-active">without its passive film</li>
        {marked.length > 0 && <li className="key-own">{whose.toLowerCase()}</li>}
        {anodes.length > 0 && <li className="key-anode">anode at work</li>}
        {data.bars.some(({ margin }) => margin !== null) && (
          <li className="key-margin">in hand, up to where the metal counts as protected</li>
        )}
      </ul>
      <SeriesTable data={data} />
    </section>
  )
}

function sayChart({ bars, anodes }: SeriesData): string {
  const own = bars.filter(({ mark }) => mark !== null).map(({ name, mark }) => `${name} (${mark})`)
  const marked = own.length === 0 ? '' : ` Marked, most noble first: ${sayList(own)}.`
  const of =
    anodes.length === 0
      ? ''
      : ` Anodes: ${anodes.map(({ alloy, volts }) => `${alloy} at ${sayVolts(volts)} V`).join(', ')}.`
  return `Galvanic series of ${bars.length} metals, the noblest on top.${marked}${of}`
}

function SeriesTable({ data }: { data: SeriesData }) {
  const hasMarks = data.bars.some(({ mark }) => mark !== null)
  return (
    <details className="fold">
      <summary>The same as a table</summary>
      <table className="series-table">
        <thead>
          <tr>
            <th scope="col">Metal</th>
            <th scope="col">From, V</th>
            <th scope="col">To, V</th>
            {hasMarks && <th scope="col">Here</th>}
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
