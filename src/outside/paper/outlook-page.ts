import { plotData } from '../../presentation/depletion-drawing.js'
import type { Lift } from '../../presentation/next-lift.js'
import { type OccupiedPosition, occupiedPositions } from '../../presentation/occupied-positions.js'
import { drawDepletion } from './depletion-figure.js'
import type { PaperWords } from './paper-words.js'
import type { HaulOutReport } from './report.js'
import { INK, LEFT, RIGHT, type Sheet } from './sheet.js'
import { type Column, setTable } from './table.js'

/** What leaves room for everything else on the page. */
const MOST_DATES = 10
const MOST_PLOTS = 9
const MOST_PAIRS = 2
const PLOTS_SIDE_BY_SIDE = { few: 2, many: 3 } as const
const FEW = 4
const GAP = 12
/** Height that what stands below the plots needs: without the table of dates, and for each of its rows [pt]. */
const REST_HEIGHT = 290
const DATE_HEIGHT = 13
const LOWEST_PLOT = 70
const HIGHEST_PLOT = 220

/** The second page: how long the anodes last, what to order, what the metals do to each other. */
export function setOutlookPage(sheet: Sheet, report: HaulOutReport, words: PaperWords): void {
  const positions = occupiedPositions(report.depletion)
  const said = { boat: report.boat.name, day: words.day(report.depletion.asOf) }
  sheet.line(words.t('outlook', said), { face: 'bold', size: 13 })
  sheet.rule(INK.act)
  setPlots(sheet, positions, report, words)
  setDates(sheet, positions, words)
  setOrder(sheet, report, words)
  setPairs(sheet, report, words)
  setBasis(sheet, positions, words)
}

function setPlots(
  sheet: Sheet,
  positions: readonly OccupiedPosition[],
  { depletion, findings, boat }: HaulOutReport,
  words: PaperWords,
): void {
  const drawn = positions.slice(0, MOST_PLOTS)
  if (drawn.length === 0) return
  const most = drawn.length <= FEW ? PLOTS_SIDE_BY_SIDE.few : PLOTS_SIDE_BY_SIDE.many
  const columns = Math.min(drawn.length, most)
  const rows = Math.ceil(drawn.length / columns)
  const below = REST_HEIGHT + DATE_HEIGHT * Math.min(positions.length, MOST_DATES)
  const height = Math.min(HIGHEST_PLOT, Math.max(LOWEST_PLOT, (sheet.room - below) / rows - GAP))
  const width = (RIGHT - LEFT - GAP * (columns - 1)) / columns
  drawn.forEach((position, index) => {
    const { current, before } = position
    const names = new Set([current, ...before].map(({ anode }) => anode))
    const of = findings.find(({ anodes }) => anodes.some((each) => each.boat === boat.name && names.has(each.anode)))
    const box = {
      x: LEFT + (index % columns) * (width + GAP),
      y: sheet.y + Math.floor(index / columns) * (height + GAP),
      width,
      height,
    }
    drawDepletion(sheet.doc, box, current.anode, plotData(current, before, depletion.asOf, of?.onset ?? null), words)
  })
  sheet.y += rows * (height + GAP) - 4
  sheet.paragraph(words.t('key'), { size: 7, colour: INK.soft }, 2)
}

function dates(words: PaperWords): Column<OccupiedPosition>[] {
  const { t } = words
  const told = (say: (forecast: NonNullable<Forecast>) => string) => (position: OccupiedPosition) =>
    position.current.forecast === null ? '–' : say(position.current.forecast)
  return [
    { head: t('column.anode'), share: 0.17, text: ({ current }) => current.anode },
    { head: t('column.replaceBy'), share: 0.15, text: ({ current }) => sayReplaceBy(current.forecast, words) },
    { head: t('column.due'), share: 0.15, text: told(({ replace }) => sayMiddle(replace.p50, words)) },
    { head: t('column.interval'), share: 0.27, text: told(({ replace }) => words.span(replace.p05, replace.p95)) },
    { head: t('column.today'), share: 0.11, align: 'right', text: told(({ massNow }) => words.mass(massNow.p50)) },
    {
      head: t('column.risk'),
      share: 0.15,
      align: 'right',
      text: told(({ riskBeforeNextHaulOut }) => words.percent(riskBeforeNextHaulOut)),
    },
  ]
}

type Forecast = OccupiedPosition['current']['forecast']

function sayReplaceBy(forecast: Forecast, words: PaperWords): string {
  const { t } = words
  if (forecast === null) return t('dates.noForecast')
  const { recommendedOn, asOf } = forecast
  if (recommendedOn === null) return t('dates.noDate')
  return recommendedOn <= asOf ? t('dates.now') : words.day(recommendedOn)
}

function sayMiddle(middle: string | null, words: PaperWords): string {
  return middle === null ? words.t('beyond', { ns: 'words' }) : words.day(middle)
}

function setDates(sheet: Sheet, positions: readonly OccupiedPosition[], words: PaperWords): void {
  const { t } = words
  sheet.heading(t('dates.heading'))
  if (positions.length === 0) sheet.line(t('dates.none'))
  else setTable(sheet, dates(words), positions, { most: MOST_DATES, sayMore: (count) => t('more', { count }) })
}

function setOrder(sheet: Sheet, { nextLift }: HaulOutReport, words: PaperWords): void {
  const { t } = words
  sheet.heading(t('order.heading'))
  if (nextLift === null) {
    sheet.line(t('order.nothing'))
    return
  }
  const { lift, following, parts, replace, unknown } = nextLift
  const days = t('order.days', { lift: sayLift(lift, words), following: sayLift(following, words) })
  if (parts.length === 0) sheet.line(t('order.none', { days }))
  else {
    const items = parts.map(({ count, alloy, shape, massG }) => {
      const what = [
        alloy === null ? t('order.noAlloy') : words.alloy(alloy),
        shape === null ? null : words.shape(shape),
        massG === null ? t('order.noMass') : t('order.about', { mass: words.mass(massG) }),
      ]
      return `${count} × ${what.filter(Boolean).join(', ')}`
    })
    sheet.paragraph(`${items.join('; ')}.`, { face: 'bold', size: 9.5 }, 3)
    sheet.paragraph(t('order.why', { days, anodes: replace.join(', ') }), {}, 3)
  }
  if (unknown.length > 0) sheet.paragraph(t('order.unknown', { anodes: unknown.join(', ') }), { colour: INK.soft }, 2)
}

function sayLift({ on, planned }: Lift, words: PaperWords): string {
  const day = words.day(on)
  return planned ? day : words.t('order.assumed', { day })
}

function setPairs(sheet: Sheet, { audit }: HaulOutReport, words: PaperWords): void {
  sheet.heading(words.t('pairs.heading'))
  if (audit.pairs.length === 0) sheet.line(words.t('pairs.none'))
  for (const pair of audit.pairs.slice(0, MOST_PAIRS)) sheet.paragraph(words.pair(pair), {}, 3)
}

function setBasis(sheet: Sheet, positions: readonly OccupiedPosition[], words: PaperWords): void {
  const forecasts = positions.flatMap(({ current }) => current.forecast ?? [])
  if (forecasts.length === 0) return
  sheet.heading(words.t('basis.heading'))
  const mean = (key: 'anode' | 'boat' | 'fleet' | 'physics') =>
    forecasts.reduce((sum, { basis }) => sum + basis[key], 0) / forecasts.length
  const basis = { anode: mean('anode'), boat: mean('boat'), fleet: mean('fleet'), physics: mean('physics') }
  sheet.paragraph(words.t('basis.text', { shares: words.basis(basis) }), {}, 2)
}
