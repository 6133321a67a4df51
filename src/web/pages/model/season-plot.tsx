import { areaY, line, type PlotOptions, ruleY } from '@observablehq/plot'
import { useCallback } from 'react'
import type { SeasonPoint } from '../../../engine/rates/season-curve.js'
import { Drawing } from '../../drawing/drawing.js'
import { dateFormat } from '../../wording/locale.js'
import { t } from './model-words.js'

interface SeasonPlotProps {
  curve: readonly SeasonPoint[]
  label: string
}

const HEIGHT = 260
const MS_PER_DAY = 86_400_000
/** Any year would do: only months and days are shown. */
const YEAR_START = Date.UTC(2001, 0, 1)

/** The rate over a year, as a multiple of the year's own. */
export default function SeasonPlot({ curve, label }: SeasonPlotProps) {
  const draw = useCallback(
    (width: number): PlotOptions => {
      const points = curve.map((point) => ({ ...point, at: YEAR_START + point.dayOfYear * MS_PER_DAY }))
      const highest = Math.max(...points.map(({ high }) => high), 1.2)
      return {
        width,
        height: HEIGHT,
        marginLeft: 46,
        marginRight: 16,
        marginTop: 28,
        x: {
          type: 'utc',
          domain: [YEAR_START, YEAR_START + 365 * MS_PER_DAY],
          label: null,
          ticks: width < 420 ? 4 : 12,
          tickFormat: (at: number) => dateFormat({ month: 'short', timeZone: 'UTC' }).format(at),
        },
        y: {
          domain: [0, highest * 1.05],
          label: t('season.axis'),
          labelArrow: 'none',
          ticks: 5,
          grid: true,
        },
        marks: [
          ruleY([1], { stroke: 'var(--ink-soft)', strokeDasharray: '4 4' }),
          areaY(points, { x: 'at', y1: 'low', y2: 'high', fill: 'var(--act)', fillOpacity: 0.2 }),
          line(points, { x: 'at', y: 'factor', stroke: 'var(--act)', strokeWidth: 2.5 }),
          ruleY([0], { stroke: 'var(--rule-strong)' }),
        ],
      }
    },
    [curve],
  )
  return <Drawing draw={draw} label={label} />
}
