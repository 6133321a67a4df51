import { monthTicks, roundTicks, type Scale, scaleOf } from '../../presentation/axis.js'
import type { PlotData, PlotPoint } from '../../presentation/depletion-drawing.js'
import type { PaperWords } from './paper-words.js'
import { printable } from './printable-text.js'
import { INK, type Pdf } from './sheet.js'

export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

interface Frame {
  readonly doc: Pdf
  readonly words: PaperWords
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  readonly xOf: (at: Date) => number
  readonly yOf: Scale
}

/** Room above the highest mass, as on the page. */
const HEADROOM = 1.04
const AXIS_WIDTH = 30
const TITLE_HEIGHT = 14
const AXIS_HEIGHT = 12
const SMALL = 6.5
/** Room that a label of the time axis needs [pt]. */
const TICK_WIDTH = 32

/** The depletion of one anode over those before it: the same marks, in the same order, as on the boat's page. */
export function drawDepletion(doc: Pdf, box: Box, title: string, data: PlotData, words: PaperWords): void {
  const frame = frameIn(doc, box, data, words)
  doc.save()
  doc.font('bold').fontSize(8).fillColor(INK.ink).text(printable(title), box.x, box.y, { lineBreak: false })
  drawAxes(frame, data)
  drawGround(frame, data)
  drawPredecessors(frame, data)
  drawCurve(frame, data)
  drawDue(frame, data)
  for (const point of data.weighings) drawWeighing(frame, point)
  if (data.fitted) square(frame, data.fitted)
  doc.restore()
}

function frameIn(doc: Pdf, box: Box, { domain }: PlotData, words: PaperWords): Frame {
  const left = box.x + AXIS_WIDTH
  const right = box.x + box.width
  const top = box.y + TITLE_HEIGHT
  const bottom = box.y + box.height - AXIS_HEIGHT
  const xOf = scaleOf([domain.from.getTime(), domain.to.getTime()], [left, right])
  return {
    doc,
    words,
    left,
    right,
    top,
    bottom,
    xOf: (at) => xOf(at.getTime()),
    yOf: scaleOf([0, domain.highestG * HEADROOM], [bottom, top]),
  }
}

function drawAxes({ doc, words, left, right, bottom, top, xOf, yOf }: Frame, { domain }: PlotData): void {
  doc.font('plain').fontSize(SMALL).fillColor(INK.soft)
  for (const mass of roundTicks(domain.highestG, Math.max(2, Math.floor((bottom - top) / 22)))) {
    const y = yOf(mass)
    doc.moveTo(left, y).lineTo(right, y).lineWidth(0.4).stroke(INK.rule)
    const label = `${mass} g`
    doc.text(label, left - 3 - doc.widthOfString(label), y - SMALL / 2 - 1, { lineBreak: false })
  }
  const ticks = monthTicks(domain.from, domain.to, Math.floor((right - left) / TICK_WIDTH))
  const areYears = ticks.every((at) => at.getUTCMonth() === 0)
  for (const at of ticks) {
    const label = areYears ? String(at.getUTCFullYear()) : words.month(at)
    const x = Math.min(xOf(at), right - doc.widthOfString(label))
    doc.text(label, x, bottom + 3, { lineBreak: false })
    doc
      .moveTo(xOf(at), bottom)
      .lineTo(xOf(at), bottom + 2)
      .lineWidth(0.4)
      .stroke(INK.soft)
  }
}

function drawGround({ doc, words, left, right, top, bottom, xOf, yOf }: Frame, data: PlotData): void {
  const { coreG, thresholdG, today, due, onset } = data
  if (coreG !== null && coreG > 0) doc.rect(left, yOf(coreG), right - left, bottom - yOf(coreG)).fill(INK.sunk)
  if (onset) band(doc, xOf(onset.from), xOf(onset.to), { left, right, top, bottom }, INK.warn)
  if (due) band(doc, xOf(due.from), xOf(due.to), { left, right, top, bottom }, INK.bootTop)
  if (thresholdG !== null)
    doc.moveTo(left, yOf(thresholdG)).lineTo(right, yOf(thresholdG)).lineWidth(1).stroke(INK.bootTop)
  doc.moveTo(xOf(today), top).lineTo(xOf(today), bottom).lineWidth(0.8).stroke(INK.ink)
  doc.font('plain').fontSize(SMALL).fillColor(INK.ink)
  const label = words.t('today')
  const width = doc.widthOfString(label)
  const isCrowded = xOf(today) + 2 + width > right
  doc.text(label, isCrowded ? xOf(today) - 2 - width : xOf(today) + 2, top - 8, { lineBreak: false })
  doc.moveTo(left, bottom).lineTo(right, bottom).lineWidth(0.6).stroke(INK.soft)
}

function band(
  doc: Pdf,
  from: number,
  to: number,
  within: Omit<Frame, 'doc' | 'words' | 'xOf' | 'yOf'>,
  colour: string,
): void {
  const start = Math.max(within.left, from)
  const end = Math.min(within.right, to)
  if (end <= start) return
  doc
    .rect(start, within.top, end - start, within.bottom - within.top)
    .fillOpacity(0.14)
    .fill(colour)
    .fillOpacity(1)
}

function drawPredecessors({ doc, xOf, yOf }: Frame, { before }: PlotData): void {
  const anodes = [...new Set(before.map(({ anode }) => anode))]
  doc.lineWidth(0.6).dash(2.5, { space: 2 })
  for (const anode of anodes) {
    const points = before.filter((point) => point.anode === anode)
    path(
      doc,
      points.map(({ at, massG }) => [xOf(at), yOf(massG)]),
    )
    doc.strokeOpacity(0.6).stroke(INK.soft).strokeOpacity(1)
  }
  doc.undash()
  for (const { at, massG } of before)
    doc.circle(xOf(at), yOf(massG), 1.2).fillOpacity(0.7).fill(INK.soft).fillOpacity(1)
}

function drawCurve({ doc, xOf, yOf }: Frame, { curve }: PlotData): void {
  if (curve.length < 2) return
  const upper = curve.map(({ at, p90 }) => [xOf(at), yOf(p90)] as const)
  const lower = curve.map(({ at, p10 }) => [xOf(at), yOf(p10)] as const)
  path(doc, [...upper, ...lower.toReversed()])
  doc.closePath().fillOpacity(0.2).fill(INK.act).fillOpacity(1)
  path(
    doc,
    curve.map(({ at, p50 }) => [xOf(at), yOf(p50)]),
  )
  doc.lineWidth(1.4).stroke(INK.act)
}

function drawDue({ doc, xOf, yOf }: Frame, { due, thresholdG }: PlotData): void {
  if (due === null || thresholdG === null) return
  const y = yOf(thresholdG)
  doc
    .moveTo(xOf(due.from), y)
    .lineTo(xOf(due.to), y)
    .lineWidth(3.5)
    .strokeOpacity(0.75)
    .stroke(INK.bootTop)
    .strokeOpacity(1)
  if (due.middle === null) return
  const x = xOf(due.middle)
  path(doc, [
    [x, y - 4],
    [x + 4, y],
    [x, y + 4],
    [x - 4, y],
  ])
  doc.closePath().fill(INK.bootTop)
}

function drawWeighing({ doc, xOf, yOf }: Frame, { at, massG, lowG, highG, method }: PlotPoint): void {
  const x = xOf(at)
  doc.moveTo(x, yOf(lowG)).lineTo(x, yOf(highG)).lineWidth(0.8).stroke(INK.ink)
  doc.circle(x, yOf(massG), 2).lineWidth(0.8)
  doc.fillAndStroke(method === 'scale' ? INK.ink : '#ffffff', INK.ink)
}

function square({ doc, xOf, yOf }: Frame, { at, massG }: { at: Date; massG: number }): void {
  doc.rect(xOf(at) - 2, yOf(massG) - 2, 4, 4).fill(INK.ink)
}

function path(doc: Pdf, points: readonly (readonly [number, number])[]): void {
  points.forEach(([x, y], index) => {
    if (index === 0) doc.moveTo(x, y)
    else doc.lineTo(x, y)
  })
}
