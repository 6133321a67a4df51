import { areaY, dot, line, type Markish, type PlotOptions, ruleX, ruleY, text } from '@observablehq/plot'
import { useCallback } from 'react'
import { Drawing } from '../../drawing/drawing.js'
import type { LifeData } from './life-data.js'
import { type SizingWords, useSizingWords } from './sizing-words.js'

const HEIGHT = 300

/** The drawing of life against mass. */
export default function LifePlot({ data, label }: { data: LifeData; label: string }) {
  const t = useSizingWords()
  const draw = useCallback(
    (width: number): PlotOptions => {
      const inGrams = data.domain.massKg < 1
      return {
        width,
        height: HEIGHT,
        marginLeft: 46,
        marginRight: 18,
        marginTop: 26,
        marginBottom: 40,
        x: {
          domain: [0, data.domain.massKg],
          label: t('plot.mass', { unit: inGrams ? 'g' : 'kg' }),
          labelArrow: 'none',
          ...(inGrams && { tickFormat: (kg: number) => String(Math.round(kg * 1000)) }),
          ticks: Math.max(3, Math.floor(width / 90)),
        },
        y: { domain: [0, data.domain.years], label: t('plot.years'), labelArrow: 'none', ticks: 5, grid: true },
        marks: marksOf(data, t),
      }
    },
    [data, t],
  )
  return <Drawing draw={draw} label={label} />
}

function marksOf(
  { line: points, anodes, chosen, wantedYears, requiredMassKg, hasBand, domain }: LifeData,
  t: SizingWords,
): Markish[] {
  const wanted = { stroke: 'var(--boot-top)', strokeWidth: 2 } as const
  const words = { fill: 'var(--boot-top)', fontWeight: 700 } as const
  const mark = { r: 7, symbol: 'diamond', fill: 'var(--boot-top)', stroke: 'var(--panel)', strokeWidth: 1.5 } as const
  const band = areaY(points, { x: 'massKg', y1: 'low', y2: 'high', fill: 'var(--act)', fillOpacity: 0.14 })
  return [
    ...(hasBand ? [band] : []),
    ruleY([0], { stroke: 'var(--rule-strong)' }),
    ruleY([wantedYears], wanted),
    text([wantedYears], {
      x: domain.massKg,
      y: wantedYears,
      text: () => t('plot.wanted'),
      dy: -8,
      textAnchor: 'end',
      ...words,
    }),
    ruleX([requiredMassKg], { x: requiredMassKg, y1: 0, y2: wantedYears, ...wanted, strokeDasharray: '2 3' }),
    line(points, { x: 'massKg', y: 'years', stroke: 'var(--act)', strokeWidth: 2.5 }),
    dot(anodes, {
      className: 'anode-numbers',
      x: 'massKg',
      y: 'years',
      r: 4.5,
      fill: (point: LifeData['anodes'][number]) => (point.enough ? 'var(--ink)' : 'var(--panel)'),
      stroke: 'var(--ink)',
      strokeWidth: 2,
    }),
    dot([chosen], { x: 'massKg', y: 'years', ...mark }),
  ]
}
