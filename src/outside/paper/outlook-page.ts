import { plotData } from '../../presentation/depletion-drawing.js'
import { type OccupiedPosition, occupiedPositions } from '../../presentation/occupied-positions.js'
import { drawDepletion } from './depletion-figure.js'
import { sayBasis, sayDay, sayMass, sayMetal, sayPercent, saySpan } from './paper-words.js'
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
export function setOutlookPage(sheet: Sheet, report: HaulOutReport): void {
  const positions = occupiedPositions(report.depletion)
  sheet.line(`${report.boat.name} · outlook as of ${sayDay(report.depletion.asOf)}`, { face: 'bold', size: 13 })
  sheet.rule(INK.act)
  setPlots(sheet, positions, report)
  setDates(sheet, positions)
  setOrder(sheet, report)
  setPairs(sheet, report)
  setBasis(sheet, positions)
}

function setPlots(
  sheet: Sheet,
  positions: readonly OccupiedPosition[],
  { depletion, findings, boat }: HaulOutReport,
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
    drawDepletion(sheet.doc, box, current.anode, plotData(current, before, depletion.asOf, of?.onset ?? null))
  })
  sheet.y += rows * (height + GAP) - 4
  const key =
    'Dots: weighings with their error. Line and band: mass worked out, 8 of 10 within. Level line and diamond: threshold and when it is reached, 9 of 10 within the bar. Dashed: anodes before it.'
  sheet.paragraph(key, { size: 7, colour: INK.soft }, 2)
}

const DATES: readonly Column<OccupiedPosition>[] = [
  { head: 'Anode', share: 0.17, text: ({ current }) => current.anode },
  { head: 'Replace by', share: 0.15, text: ({ current }) => sayReplaceBy(current.forecast) },
  { head: 'Due around', share: 0.15, text: ({ current }) => sayMiddle(current.forecast) },
  { head: '9 times in 10 between', share: 0.27, text: ({ current }) => sayInterval(current.forecast) },
  { head: 'Mass today', share: 0.11, align: 'right', text: ({ current }) => sayToday(current.forecast) },
  { head: 'Risk by next lift', share: 0.15, align: 'right', text: ({ current }) => sayRisk(current.forecast) },
]

type Forecast = OccupiedPosition['current']['forecast']

function sayReplaceBy(forecast: Forecast): string {
  if (forecast === null) return 'no forecast'
  const { recommendedOn, asOf } = forecast
  if (recommendedOn === null) return 'no date yet'
  return recommendedOn <= asOf ? 'now' : sayDay(recommendedOn)
}

function sayMiddle(forecast: Forecast): string {
  if (forecast === null) return '–'
  return forecast.replace.p50 === null ? 'over 30 years away' : sayDay(forecast.replace.p50)
}

function sayInterval(forecast: Forecast): string {
  return forecast === null ? '–' : saySpan(forecast.replace.p05, forecast.replace.p95)
}

function sayToday(forecast: Forecast): string {
  return forecast === null ? '–' : sayMass(forecast.massNow.p50)
}

function sayRisk(forecast: Forecast): string {
  return forecast === null ? '–' : sayPercent(forecast.riskBeforeNextHaulOut)
}

function setDates(sheet: Sheet, positions: readonly OccupiedPosition[]): void {
  sheet.heading('When they are due')
  if (positions.length === 0) sheet.line('No anode is on record for this boat.')
  else setTable(sheet, DATES, positions, MOST_DATES)
}

function setOrder(sheet: Sheet, { nextLift }: HaulOutReport): void {
  sheet.heading('To order for the next lift')
  if (nextLift === null) {
    sheet.line('Nothing can be said: there is no forecast for the anodes in place.')
    return
  }
  const { lift, following, parts, replace, unknown } = nextLift
  const days = `Next lift ${sayDay(lift.on)}${lift.planned ? '' : ' (assumed)'}, the following one ${sayDay(following.on)}${following.planned ? '' : ' (assumed)'}.`
  if (parts.length === 0) sheet.line(`${days} No anode is likely to pass its threshold before the latter.`)
  else {
    const items = parts.map(({ count, alloy, shape, massG }) => {
      const what = [alloy ?? 'alloy not known', shape, massG === null ? 'mass not known' : `about ${sayMass(massG)}`]
      return `${count} × ${what.filter(Boolean).join(', ')}`
    })
    sheet.paragraph(`${items.join('; ')}.`, { face: 'bold', size: 9.5 }, 3)
    sheet.paragraph(
      `${days} Each of these passes its threshold before the latter with more than 1 chance in 10: ${replace.join(', ')}.`,
      {},
      3,
    )
  }
  if (unknown.length > 0) sheet.paragraph(`Not told of: ${unknown.join(', ')} (no forecast).`, { colour: INK.soft }, 2)
}

function setPairs(sheet: Sheet, { audit }: HaulOutReport): void {
  sheet.heading('Metals in the same water: the worst pairs')
  if (audit.pairs.length === 0) sheet.line('No two different metals are on record as joined.')
  for (const { grade, anode, cathode, reason } of audit.pairs.slice(0, MOST_PAIRS)) {
    sheet.paragraph(`${grade}: ${sayMetal(anode.metal)} with ${sayMetal(cathode.metal)}. ${reason}`, {}, 3)
  }
}

function setBasis(sheet: Sheet, positions: readonly OccupiedPosition[]): void {
  const forecasts = positions.flatMap(({ current }) => current.forecast ?? [])
  if (forecasts.length === 0) return
  sheet.heading('On what it rests')
  const mean = (key: 'anode' | 'boat' | 'fleet' | 'physics') =>
    forecasts.reduce((sum, { basis }) => sum + basis[key], 0) / forecasts.length
  const basis = { anode: mean('anode'), boat: mean('boat'), fleet: mean('fleet'), physics: mean('physics') }
  sheet.paragraph(`The dates rest, on the mean of the anodes, ${sayBasis(basis)}.`, {}, 2)
}
