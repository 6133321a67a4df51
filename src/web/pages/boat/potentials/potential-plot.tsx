import { dot, line, type Markish, type PlotOptions, rectY, ruleY, text } from '@observablehq/plot'
import { useCallback } from 'react'
import { Drawing } from '../../../drawing/drawing.js'
import { sayNumber, sayTick } from '../../../wording/locale.js'
import { t } from '../boat-words.js'
import type { ChartedReading, PotentialSeries } from './potential-data.js'

interface PotentialPlotProps {
  series: PotentialSeries
  label: string
}

const HEIGHT = 280

/** The potentials of one thing over time, with the band in which it counts as protected. */
export default function PotentialPlot({ series, label }: PotentialPlotProps) {
  const draw = useCallback(
    (width: number): PlotOptions => ({
      width,
      height: HEIGHT,
      marginLeft: 56,
      marginRight: 16,
      marginTop: 26,
      x: { type: 'utc', label: null, ticks: Math.max(2, Math.floor(width / 130)), tickFormat: sayTick, inset: 18 },
      y: {
        domain: [...series.domain],
        label: t('potential.axis'),
        labelArrow: 'none',
        tickFormat: sayVolts,
        ticks: 5,
        grid: true,
      },
      marks: [...bandMarks(series), ...readingMarks(series.readings)],
    }),
    [series],
  )
  return <Drawing draw={draw} label={label} />
}

/** With a minus sign that is as wide as a plus. @example sayVolts(-0.8) // '−0.80' */
export function sayVolts(volts: number): string {
  return sayNumber(volts, 2).replace('-', '−')
}

function bandMarks({ band, domain }: PotentialSeries): Markish[] {
  if (band === null) return []
  const [low] = domain
  const edges = [band.protectedAtOrBelowV, ...(band.notBelowV === undefined ? [] : [band.notBelowV])]
  const edge = { frameAnchor: 'right', dy: -7, textAnchor: 'end', fill: 'var(--fine)', fontWeight: 700 } as const
  return [
    rectY([band], {
      y1: band.notBelowV ?? low,
      y2: band.protectedAtOrBelowV,
      fill: 'var(--fine)',
      fillOpacity: 0.16,
      className: 'protection-band',
    }),
    ruleY(edges, { stroke: 'var(--fine)', strokeWidth: 1.5 }),
    text([band.protectedAtOrBelowV], {
      y: (volts: number) => volts,
      text: () => t('potential.protectedBelow'),
      ...edge,
    }),
    ...(band.notBelowV === undefined
      ? []
      : [
          text([band.notBelowV], { y: (volts: number) => volts, text: () => t('potential.harmBelow'), ...edge, dy: 9 }),
        ]),
  ]
}

function readingMarks(readings: readonly ChartedReading[]): Markish[] {
  const of = (state: ChartedReading['shorePower']) => readings.filter(({ shorePower }) => shorePower === state)
  const place = { x: 'at', y: 'volts', className: 'readings' } as const
  const hollow = { ...place, fill: 'var(--panel)', stroke: 'var(--ink)', strokeWidth: 2 } as const
  return [
    line(readings, { x: 'at', y: 'volts', stroke: 'var(--ink-soft)', strokeWidth: 1, strokeDasharray: '2 3' }),
    dot(of('connected'), { ...place, r: 5.5, symbol: 'circle', fill: 'var(--ink)' }),
    dot(of('disconnected'), { ...hollow, r: 5.5, symbol: 'square' }),
    dot(of(null), { ...hollow, r: 6, symbol: 'triangle' }),
  ]
}
