import type { BacktestReport, GroupScore } from '../engine/backtest/summary.js'
import { calendarDay } from '../services/dates/day-numbers.js'

interface Column {
  readonly title: string
  readonly cell: (score: GroupScore) => string
}

/** Columns that answer one question, under a heading of their own. */
interface Block {
  readonly heading: string
  readonly columns: readonly Column[]
}

const BLOCKS: readonly Block[] = [
  { heading: '', columns: [{ title: 'weighings', cell: ({ weighings }) => String(weighings) }] },
  {
    heading: 'intervals held, %',
    columns: [
      { title: 'the 80s', cell: ({ inside80 }) => percent(inside80) },
      { title: 'the 90s', cell: ({ inside90 }) => percent(inside90) },
      { title: 'lean', cell: ({ bias }) => signed(bias) },
    ],
  },
  {
    heading: 'mass, % of new off',
    columns: [
      { title: 'forecast', cell: ({ crps }) => percent(crps) },
      { title: 'line', cell: ({ lineCrps }) => percent(lineCrps) },
      { title: 'robust', cell: ({ robustCrps }) => percent(robustCrps) },
      { title: 'a year', cell: ({ ruleCrps }) => percent(ruleCrps) },
    ],
  },
  { heading: '', columns: [{ title: 'lives', cell: ({ lives }) => String(lives) }] },
  {
    heading: 'life left, times off',
    columns: [
      { title: 'forecast', cell: ({ lifeError }) => factor(lifeError) },
      { title: 'line', cell: ({ lineLifeError }) => factor(lineLifeError) },
      { title: 'robust', cell: ({ robustLifeError }) => factor(robustLifeError) },
      { title: 'a year', cell: ({ ruleLifeError }) => factor(ruleLifeError) },
    ],
  },
]

const NAME_WIDTH = 16
const CELL_WIDTH = 10

/** The report for people: the answer in sentences, then the table with what its columns mean. */
export function tableOf({ origins, overall, ...groups }: BacktestReport): string {
  const parts: readonly (readonly [string, readonly GroupScore[]])[] = [
    ['', [overall]],
    ['by what was known', groups.byHistory],
    ['by days ahead', groups.byHorizon],
    ['by water', groups.byWater],
    ['by alloy', groups.byAlloy],
  ]
  const rows = parts.map(([kind, scores]) => (kind ? `${kind}\n` : '') + scores.map(rowOf).join(''))
  const days = `${calendarDay(origins[0]!)} to ${calendarDay(origins.at(-1)!)}`
  const head = `The fleet forecast on ${origins.length} past ${origins.length === 1 ? 'day' : 'days'}, ${days}\n`
  return `${head}${verdict(overall)}\n${headings()}${rows.join('\n')}\n${LEGEND}\n`
}

/** What the first row says, in words. */
function verdict({ weighings, inside80, crps, lineCrps, lives, lifeError, lineLifeError }: GroupScore): string {
  const held = `Of ${weighings} weighings that followed, ${percent(inside80)} % lay within the intervals for 80 %.\n`
  const mass = `The mass was ${percent(crps)} % of new off, a straight line's ${percent(lineCrps)} %.\n`
  if (lives === 0) return held + mass
  return `${held}${mass}Of ${lives} anodes seen to reach their threshold, half were dated within ${factor(lifeError)} times the life they had left, a line's within ${factor(lineLifeError)}.\n`
}

function headings(): string {
  const over = BLOCKS.map(({ heading, columns }) => heading.padStart(CELL_WIDTH * columns.length)).join('')
  const titles = BLOCKS.flatMap(({ columns }) => columns.map(({ title }) => title.padStart(CELL_WIDTH))).join('')
  return `${' '.repeat(NAME_WIDTH)}${over}\n${' '.repeat(NAME_WIDTH)}${titles}\n`
}

function rowOf(score: GroupScore): string {
  const cells = BLOCKS.flatMap(({ columns }) => columns.map(({ cell }) => cell(score).padStart(CELL_WIDTH)))
  return `${score.group.padEnd(NAME_WIDTH)}${cells.join('')}\n`
}

const LEGEND = `intervals held: weighings between p10 and p90, and between p05 and p95; 80 and 90 where forecasts are honest
lean: mean normal score of the loss, above 0 where more was lost than forecast, 0 without bias
mass, % of new off: mean ranked probability score of the net mass; a single number scores its absolute error
life left, times off: half of the forecasts were nearer than this factor, of the anodes whose crossing was seen
line: straight line through the last two masses; robust: through all of them, bearing wrong ones (Theil and Sen);
a year: due after a year in the water, whatever was weighed; –: nothing to score`

function percent(share: number | null): string {
  return share === null ? '–' : (100 * share).toFixed(1)
}

function signed(value: number | null): string {
  if (value === null) return '–'
  return `${value > 0 ? '+' : ''}${value.toFixed(2)}`
}

/** From a median of absolute logarithms. */
function factor(logError: number | null): string {
  return logError === null ? '–' : Math.exp(logError).toFixed(2)
}
