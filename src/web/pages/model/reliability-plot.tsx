import { dot, line, type PlotOptions, ruleX, text } from '@observablehq/plot'
import { useCallback } from 'react'
import { Drawing } from '../../drawing/drawing.js'
import { t } from './model-words.js'
import type { ReliabilityPoint } from './reliability-data.js'

interface ReliabilityPlotProps {
  points: readonly ReliabilityPoint[]
  label: string
}

const TALLEST = 380
const percent = (share: number) => `${Math.round(share * 100)} %`
const EVEN = [
  { promised: 0, kept: 0 },
  { promised: 1, kept: 1 },
]

/** What was promised against what came: on the diagonal forecasts are as sure as they may be. */
export default function ReliabilityPlot({ points, label }: ReliabilityPlotProps) {
  const draw = useCallback(
    (width: number): PlotOptions => {
      const share = {
        domain: [0, 1],
        tickFormat: percent,
        ticks: width < 420 ? 3 : 5,
        grid: true,
        labelArrow: 'none' as const,
      }
      const at = { x: 'promised', y: 'kept' } as const
      return {
        width,
        height: Math.min(width, TALLEST),
        marginLeft: 52,
        marginRight: 20,
        marginTop: 28,
        marginBottom: 42,
        x: { ...share, label: t('plot.chance') },
        y: { ...share, label: t('plot.often') },
        marks: [
          line(EVEN, { ...at, stroke: 'var(--ink-soft)', strokeDasharray: '4 4' }),
          text([{ promised: 0.98, kept: 0.98 }], {
            ...at,
            text: () => t('plot.asPromised'),
            textAnchor: 'end',
            dx: -10,
            fill: 'var(--ink-soft)',
          }),
          ruleX(points, {
            x: 'promised',
            y1: 'low',
            y2: 'high',
            stroke: 'var(--act)',
            strokeWidth: 6,
            strokeOpacity: 0.35,
          }),
          line(points, { ...at, stroke: 'var(--act)', strokeWidth: 2 }),
          dot(points, { ...at, r: 4.5, fill: 'var(--act)', stroke: 'var(--panel)', className: 'promises' }),
        ],
      }
    },
    [points],
  )
  return <Drawing draw={draw} label={label} />
}
