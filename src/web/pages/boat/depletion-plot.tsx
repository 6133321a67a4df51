import { areaY, dot, line, type Markish, type PlotOptions, rectX, ruleX, ruleY, text } from '@observablehq/plot'
import { useCallback } from 'react'
import type { PlotData, PlotPoint } from '../../../presentation/depletion-drawing.js'
import { Drawing, type Frame } from '../../drawing/drawing.js'
import { axisUnit } from '../../wording/amounts.js'
import { currentLocale, sayTick } from '../../wording/locale.js'
import { t } from './boat-words.js'
import { CurveReader } from './curve-reader.js'

interface DepletionPlotProps {
  data: PlotData
  label: string
}

const HEIGHT_NARROW = 260
const HEIGHT_WIDE = 320
const WIDE_FROM = 560

/** The drawing of one anode's depletion, with a reader that goes along its curve. */
export default function DepletionPlot({ data, label }: DepletionPlotProps) {
  const draw = useCallback(
    (width: number): PlotOptions => {
      const unit = axisUnit(data.domain.highestG)
      return {
        width,
        height: width < WIDE_FROM ? HEIGHT_NARROW : HEIGHT_WIDE,
        marginLeft: 52,
        marginRight: 16,
        marginTop: 26,
        x: {
          type: 'utc',
          domain: [data.domain.from, data.domain.to],
          label: null,
          ticks: Math.max(3, Math.floor(width / 110)),
          tickFormat: sayTick,
        },
        y: {
          domain: [0, (data.domain.highestG * 1.04) / unit.grams],
          // The data stay in grams; only the scale is in what its reader weighs in.
          transform: (grams: number) => grams / unit.grams,
          label: t('plot.axis', { unit: unit.name }),
          tickFormat: (value: number) => value.toLocaleString(currentLocale()),
          ticks: 5,
          nice: true,
          grid: true,
        },
        marks: marksOf(data),
      }
    },
    [data],
  )
  return (
    <Drawing draw={draw} label={label}>
      {(frame) => <CurveReader curve={data.curve} frame={inGrams(frame, data)} today={data.today} />}
    </Drawing>
  )
}

/** The reader's points are in grams, the frame's scale in the axis's unit. */
function inGrams(frame: Frame, { domain }: PlotData): Frame {
  const { grams } = axisUnit(domain.highestG)
  return { ...frame, yOf: (massG) => frame.yOf(massG / grams) }
}

function marksOf(data: PlotData): Markish[] {
  const drawn = [...groundMarks(data), ...predecessorMarks(data), ...curveMarks(data), ...weighingMarks(data)]
  return drawn.filter((mark) => mark !== null && mark !== false)
}

/** A mark, or nothing where its data are not known. */
type Drawn = Exclude<Markish, undefined> | false | null

function groundMarks({ coreG, thresholdG, due, today, domain, onset }: PlotData): Drawn[] {
  const { from, to } = domain
  return [
    ...(onset === null ? [] : onsetMarks(onset, domain)),
    coreG !== null && coreG > 0 && rectX([domain], { x1: from, x2: to, y1: 0, y2: coreG, fill: 'var(--panel-sunk)' }),
    due && rectX([due], { x1: 'from', x2: 'to', fill: 'var(--boot-top)', fillOpacity: 0.13 }),
    thresholdG !== null && ruleY([thresholdG], { stroke: 'var(--boot-top)', strokeWidth: 2 }),
    thresholdG !== null && text([domain], { x: from, y: thresholdG, text: () => t('plot.due'), ...boot }),
    ruleX([today], { stroke: 'var(--ink)', strokeWidth: 1.5 }),
    text([today], { x: today, text: () => t('plot.today'), frameAnchor: 'top', dy: -12, fill: 'var(--ink)' }),
    ruleY([0], { stroke: 'var(--rule-strong)' }),
  ]
}

/** A band as wide as the doubt about when it began, kept within the drawing, with a line in its middle. */
function onsetMarks(onset: NonNullable<PlotData['onset']>, { from, to }: PlotData['domain']): Drawn[] {
  const within = (at: Date) => new Date(Math.min(to.getTime(), Math.max(from.getTime(), at.getTime())))
  const band = { x1: within(onset.from), x2: within(onset.to) }
  const middle = within(onset.middle)
  return [
    rectX([band], { x1: 'x1', x2: 'x2', fill: 'var(--warn)', fillOpacity: 0.22, className: 'onset' }),
    ruleX([middle], { stroke: 'var(--warn)', strokeWidth: 2, strokeDasharray: '6 3' }),
    text([middle], { x: middle, text: () => t('plot.began'), frameAnchor: 'top', dx: 4, dy: 8, ...began }),
  ]
}

const began = { textAnchor: 'start', fill: 'var(--warn)', fontWeight: 700 } as const
const boot = { dx: 4, dy: -8, textAnchor: 'start', fill: 'var(--boot-top)', fontWeight: 700 } as const

function predecessorMarks({ before }: PlotData): Drawn[] {
  const faint = { x: 'at', y: 'massG', z: 'anode' } as const
  return [
    line(before, { ...faint, stroke: 'var(--ink-soft)', strokeOpacity: 0.5, strokeDasharray: '4 3' }),
    dot(before, { ...faint, r: 2.5, fill: 'var(--ink-soft)', fillOpacity: 0.6 }),
  ]
}

function curveMarks({ curve, due, thresholdG }: PlotData): Drawn[] {
  return [
    areaY(curve, { x: 'at', y1: 'p10', y2: 'p90', fill: 'var(--act)', fillOpacity: 0.2 }),
    line(curve, { x: 'at', y: 'p50', stroke: 'var(--act)', strokeWidth: 2.5 }),
    ...(due === null || thresholdG === null ? [] : dueMarks(due, thresholdG)),
  ]
}

function dueMarks(due: NonNullable<PlotData['due']>, thresholdG: number): Drawn[] {
  const { middle } = due
  const band = { stroke: 'var(--boot-top)', strokeWidth: 7, strokeOpacity: 0.75 } as const
  const mark = { r: 6, symbol: 'diamond', fill: 'var(--boot-top)', stroke: 'var(--panel)', strokeWidth: 1.5 } as const
  return [
    ruleY([due], { y: thresholdG, x1: 'from', x2: 'to', ...band }),
    middle && ruleX([middle], { stroke: 'var(--boot-top)', strokeWidth: 2, strokeDasharray: '2 3' }),
    middle && dot([middle], { x: middle, y: thresholdG, ...mark }),
  ]
}

function weighingMarks({ weighings, fitted }: PlotData): Drawn[] {
  const bar = { stroke: 'var(--ink)', strokeWidth: 1.5 } as const
  const ends = weighings.flatMap(({ at, lowG, highG }) => [
    { at, massG: lowG },
    { at, massG: highG },
  ])
  return [
    ruleX(weighings, { x: 'at', y1: 'lowG', y2: 'highG', ...bar }),
    dot(ends, { x: 'at', y: 'massG', symbol: { draw: drawCap }, r: 4, ...bar }),
    dot(weighings, {
      className: 'weighings',
      x: 'at',
      y: 'massG',
      r: 4.5,
      fill: (point: PlotPoint) => (point.method === 'scale' ? 'var(--ink)' : 'var(--panel)'),
      stroke: 'var(--ink)',
      strokeWidth: 2,
    }),
    fitted && dot([fitted], { x: 'at', y: 'massG', r: 4.5, symbol: 'square', fill: 'var(--ink)' }),
  ]
}

/** The cap of an error bar: a short level stroke. */
function drawCap(context: { moveTo(x: number, y: number): void; lineTo(x: number, y: number): void }, size: number) {
  const half = Math.sqrt(size / Math.PI)
  context.moveTo(-half, 0)
  context.lineTo(half, 0)
}
