import { shortName } from './galvanic-words.js'
import type { SeriesBar, SeriesData } from './series-data.js'

/** A bar with its place on the page, from the top [px]. */
export interface PlacedBar extends SeriesBar {
  readonly shortName: string
  readonly nameAt: number
  /** Line of the fittings and areas of a marked metal. */
  readonly markAt: number
  readonly top: number
  readonly bottom: number
  readonly middle: number
  /** Whether the mark ends at its bar, for want of room to begin there. */
  readonly isMarkEnding: boolean
}

export interface SeriesLayout {
  readonly isAside: boolean
  readonly bars: readonly PlacedBar[]
  readonly height: number
  readonly marginLeft: number
}

/** Names stand left of the bars from this width on, above them on narrower screens [px]. */
const NAMES_ASIDE_FROM = 520
const NAMES_WIDTH = 262
const MARGIN = 8
const LINE = 17
const ASIDE = { row: 21, bar: 14 } as const
const ABOVE = { bar: 11, gap: 11 } as const
/** Width of a bold letter of the chart, on average and rounded up [px]. */
const LETTER = 7

/** Where each row of the chart lies: a marked metal takes a line more than another. */
export function seriesLayout({ bars, domain }: SeriesData, width: number): SeriesLayout {
  const isAside = width >= NAMES_ASIDE_FROM
  const marginLeft = isAside ? NAMES_WIDTH : MARGIN
  const pixelsPerVolt = (width - marginLeft - MARGIN) / (domain[1] - domain[0])
  let y = 0
  const placed = bars.map((bar): PlacedBar => {
    const { height, ...place } = isAside ? placedAside(bar, y) : placedAbove(bar, y)
    y += height
    const room = (domain[1] - bar.low) * pixelsPerVolt
    const isMarkEnding = isAside && room < (bar.mark ?? '').length * LETTER
    return { ...bar, ...place, shortName: shortName(bar.metal), isMarkEnding }
  })
  return { isAside, bars: placed, height: y, marginLeft }
}

/** Name and bar on one line, the mark under the bar. */
function placedAside({ mark }: SeriesBar, y: number) {
  const middle = y + ASIDE.row / 2
  const height = ASIDE.row + (mark === null ? 0 : LINE)
  const markAt = y + ASIDE.row + LINE / 2 - 3
  return { nameAt: middle, markAt, middle, top: middle - ASIDE.bar / 2, bottom: middle + ASIDE.bar / 2, height }
}

/** Name, mark and bar under one another. */
function placedAbove({ mark }: SeriesBar, y: number) {
  const top = y + (mark === null ? 1 : 2) * LINE
  const bottom = top + ABOVE.bar
  const height = bottom + ABOVE.gap - y
  return { nameAt: y + LINE / 2, markAt: y + LINE * 1.5, middle: (top + bottom) / 2, top, bottom, height }
}
