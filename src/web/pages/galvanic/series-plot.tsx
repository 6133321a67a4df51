import { link, type Markish, type PlotOptions, rect, ruleX, text } from '@observablehq/plot'
import { useCallback } from 'react'
import { Drawing } from '../../drawing/drawing.js'
import { sayNumber } from '../../wording/locale.js'
import { t } from './galvanic-words.js'
import type { ChartScale, SeriesData } from './series-data.js'
import { type PlacedBar, type SeriesLayout, seriesLayout } from './series-layout.js'

interface SeriesPlotProps {
  data: SeriesData
  scale: ChartScale
  label: string
}

const HEAD = 22
const HEAD_LINE = 15
const FOOT = 44

/** The galvanic series as bars, with the metals and anodes that are asked about marked on it. */
export default function SeriesPlot({ data, scale, label }: SeriesPlotProps) {
  const draw = useCallback(
    (width: number): PlotOptions => {
      const layout = seriesLayout(data, width)
      const head = HEAD + HEAD_LINE * data.anodes.length
      return {
        width,
        height: head + FOOT + layout.height,
        marginLeft: layout.marginLeft,
        marginRight: 12,
        marginTop: head,
        marginBottom: FOOT,
        x: {
          domain: [...data.domain],
          label: t(`series.axis.${scale}`),
          labelAnchor: 'center',
          labelArrow: 'none',
          tickFormat: (volts: number) => sayNumber(volts, 1).replace('-', '−'),
          ticks: Math.max(3, Math.floor((width - layout.marginLeft) / 90)),
          grid: true,
        },
        y: { domain: [layout.height, 0], axis: null },
        marks: [...anodeMarks(data, layout.height), ...barMarks(layout.bars), ...nameMarks(layout, data.domain[0])],
      }
    },
    [data, scale],
  )
  return <Drawing draw={draw} label={label} />
}

/** A line down the chart for each alloy, their names one above the other so that neighbours stay apart. */
function anodeMarks({ anodes }: SeriesData, height: number): Markish[] {
  return [
    ruleX(anodes, { x: 'volts', y1: 0, y2: height, stroke: 'var(--boot-top)', strokeWidth: 2 }),
    ...anodes.map((anode, at) =>
      text([anode], {
        x: 'volts',
        frameAnchor: 'top',
        dx: -4,
        dy: -6 - HEAD_LINE * at,
        text: () => `▾ ${t('series.anodeOf', { alloy: anode.alloy })}`,
        textAnchor: 'start',
        lineAnchor: 'bottom',
        fill: 'var(--boot-top)',
        fontWeight: 700,
      }),
    ),
  ]
}

function barMarks(bars: readonly PlacedBar[]): Markish[] {
  const box = { x1: 'low', x2: 'high', y1: 'top', y2: 'bottom', rx: 2 } as const
  const colour = (bar: PlacedBar) => (bar.mark === null ? 'var(--metal)' : 'var(--act)')
  const margins = bars.flatMap(({ middle, margin }) => (margin === null ? [] : [{ middle, ...margin }]))
  return [
    rect(
      bars.filter(({ isActive }) => !isActive),
      { ...box, fill: colour, className: 'series-bars' },
    ),
    rect(
      bars.filter(({ isActive }) => isActive),
      {
        ...box,
        fill: 'var(--panel)',
        stroke: colour,
        strokeWidth: 1.5,
        strokeDasharray: '4 2',
        className: 'series-active',
      },
    ),
    link(margins, {
      x1: 'anode',
      x2: 'protectedAt',
      y1: 'middle',
      y2: 'middle',
      stroke: 'var(--boot-top)',
      strokeWidth: 2,
      strokeDasharray: '3 3',
      className: 'series-margins',
    }),
    text(margins, {
      x: 'protectedAt',
      y: 'middle',
      text: () => '◆',
      fill: 'var(--boot-top)',
      fontSize: 13,
      stroke: 'var(--panel)',
      strokeWidth: 2,
    }),
  ]
}

function nameMarks({ bars, isAside }: SeriesLayout, left: number): Markish[] {
  const halo = { stroke: 'var(--panel)', strokeWidth: 4, fill: 'var(--ink)' } as const
  const marked = bars.filter(({ mark }) => mark !== null)
  const aside = isAside ? ({ dx: -10, textAnchor: 'end' } as const) : ({ textAnchor: 'start' } as const)
  const names = (of: readonly PlacedBar[], fontWeight: number) =>
    text(of, { x: left, y: 'nameAt', text: 'shortName', fontWeight, ...aside, ...halo })
  const marks = (of: readonly PlacedBar[], place: object) =>
    text(of, { y: 'markAt', text: 'mark', ...place, ...halo, className: 'series-marks' })
  const byBars = [
    marks(
      marked.filter(({ isMarkEnding }) => !isMarkEnding),
      { x: 'low', textAnchor: 'start' },
    ),
    marks(
      marked.filter(({ isMarkEnding }) => isMarkEnding),
      { x: 'high', textAnchor: 'end' },
    ),
  ]
  return [
    names(
      bars.filter(({ mark }) => mark === null),
      400,
    ),
    names(marked, 700),
    ...(isAside ? byBars : [marks(marked, { x: left, textAnchor: 'start' })]),
  ]
}
