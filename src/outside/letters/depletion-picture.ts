import { join } from 'node:path'
import sharp, { type OverlayOptions } from 'sharp'
import { monthTicks, roundTicks, scaleOf } from '../../presentation/axis.js'
import type { PlotData } from '../../presentation/depletion-drawing.js'
import { PROJECT_ROOT } from '../../project-root.js'

/** What the picture says in words. */
export interface PictureWords {
  readonly today: string
  readonly month: (at: Date) => string
  readonly mass: (grams: number) => string
}

const WIDTH = 568
const HEIGHT = 250
/** For screens with two dots a pixel. */
const DENSITY = 2
const LEFT = 76
const RIGHT = WIDTH - 12
const TOP = 28
const BOTTOM = HEIGHT - 30
const HEADROOM = 1.04
/** Read on a phone at two thirds of its size. */
const TEXT_PT = 15

/** Its own letters: the machine that draws may have none. */
const FONT = join(PROJECT_ROOT, 'node_modules/dejavu-fonts-ttf/ttf/DejaVuSans.ttf')

const INK = { line: '#0b4f6c', soft: '#5b6b75', rule: '#dfe5e8', due: '#c2410c', ground: '#eef2f4' } as const

interface Label {
  readonly text: string
  readonly x: number
  readonly y: number
  readonly anchor: 'start' | 'end' | 'middle'
}

/**
 * The depletion of one anode as a picture for a letter: what was weighed, what is expected, the threshold, and when it is due.
 *
 * @returns PNG of 568 × 250 pixels at double density
 */
export async function depletionPicture(data: PlotData, words: PictureWords): Promise<Buffer> {
  const { svg, labels } = drawn(data, words)
  const overlays = await Promise.all(labels.map(overlayOf))
  return sharp(Buffer.from(svg), { density: 72 * DENSITY })
    .composite(overlays)
    .png({ palette: true, colours: 64 })
    .toBuffer()
}

function drawn(data: PlotData, words: PictureWords): { svg: string; labels: Label[] } {
  const { domain, curve, weighings, fitted, before, thresholdG, due, today } = data
  const x = scaleOf([domain.from.getTime(), domain.to.getTime()], [LEFT, RIGHT])
  const y = scaleOf([0, domain.highestG * HEADROOM], [BOTTOM, TOP])
  const at = (point: { at: Date }, massG: number) => `${x(point.at.getTime()).toFixed(1)},${y(massG).toFixed(1)}`
  const labels: Label[] = []
  const marks: string[] = [`<rect width="${WIDTH}" height="${HEIGHT}" fill="#ffffff"/>`]
  for (const mass of roundTicks(domain.highestG, 4)) {
    marks.push(line(LEFT, y(mass), RIGHT, y(mass), INK.rule, 1))
    labels.push({ text: words.mass(mass), x: LEFT - 6, y: y(mass), anchor: 'end' })
  }
  for (const tick of monthTicks(domain.from, domain.to, 6)) {
    const across = x(tick.getTime())
    marks.push(line(across, BOTTOM, across, BOTTOM + 4, INK.soft, 1))
    labels.push({ text: words.month(tick), x: Math.min(across, RIGHT - 28), y: BOTTOM + 17, anchor: 'middle' })
  }
  if (due !== null) {
    const [from, to] = [Math.max(LEFT, x(due.from.getTime())), Math.min(RIGHT, x(due.to.getTime()))]
    marks.push(
      `<rect x="${from}" y="${TOP}" width="${Math.max(2, to - from)}" height="${BOTTOM - TOP}" fill="${INK.due}" fill-opacity="0.16"/>`,
    )
  }
  if (thresholdG !== null) marks.push(line(LEFT, y(thresholdG), RIGHT, y(thresholdG), INK.due, 2, '7 4'))
  for (const name of new Set(before.map(({ anode }) => anode))) {
    const points = before.filter(({ anode }) => anode === name).map((point) => at(point, point.massG))
    marks.push(
      `<polyline points="${points.join(' ')}" fill="none" stroke="${INK.soft}" stroke-width="1.2" stroke-dasharray="4 3"/>`,
    )
  }
  if (curve.length > 1) {
    const upper = curve.map((point) => at(point, point.p90))
    const lower = curve.toReversed().map((point) => at(point, point.p10))
    marks.push(`<polygon points="${[...upper, ...lower].join(' ')}" fill="${INK.line}" fill-opacity="0.18"/>`)
    marks.push(
      `<polyline points="${curve.map((point) => at(point, point.p50)).join(' ')}" fill="none" stroke="${INK.line}" stroke-width="2.4"/>`,
    )
  }
  const now = x(today.getTime())
  marks.push(line(now, TOP, now, BOTTOM, '#1f2a30', 1))
  const isRight = now > (LEFT + RIGHT) / 2
  labels.push({ text: words.today, x: isRight ? now - 4 : now + 4, y: TOP - 13, anchor: isRight ? 'end' : 'start' })
  for (const point of weighings) {
    const [across, middle] = at(point, point.massG).split(',')
    marks.push(line(Number(across), y(point.lowG), Number(across), y(point.highG), INK.line, 1.4))
    marks.push(`<circle cx="${across}" cy="${middle}" r="4.2" fill="${INK.line}"/>`)
  }
  if (fitted !== null) {
    const across = x(fitted.at.getTime())
    marks.push(`<rect x="${across - 4}" y="${y(fitted.massG) - 4}" width="8" height="8" fill="${INK.line}"/>`)
  }
  marks.push(line(LEFT, BOTTOM, RIGHT, BOTTOM, INK.soft, 1.2))
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 ${WIDTH} ${HEIGHT}">${marks.join('')}</svg>`
  return { svg, labels }
}

function line(x1: number, y1: number, x2: number, y2: number, stroke: string, width: number, dash?: string): string {
  const dashed = dash === undefined ? '' : ` stroke-dasharray="${dash}"`
  return `<line x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}" stroke="${stroke}" stroke-width="${width}"${dashed}/>`
}

/** Text as a picture of its own, put where the label belongs. */
async function overlayOf({ text, x, y, anchor }: Label): Promise<OverlayOptions> {
  const { data, info } = await sharp({
    text: {
      text: `<span foreground="#1f2a30">${text.replace(/[&<>]/g, '')}</span>`,
      font: `DejaVu Sans ${TEXT_PT}`,
      fontfile: FONT,
      rgba: true,
      dpi: 72 * DENSITY,
    },
  })
    .png()
    .toBuffer({ resolveWithObject: true })
  const shift = anchor === 'start' ? 0 : anchor === 'end' ? info.width : info.width / 2
  const left = Math.round(x * DENSITY - shift)
  const top = Math.round(y * DENSITY - info.height / 2)
  const most = { left: WIDTH * DENSITY - info.width, top: HEIGHT * DENSITY - info.height }
  return { input: data, left: Math.max(0, Math.min(left, most.left)), top: Math.max(0, Math.min(top, most.top)) }
}
