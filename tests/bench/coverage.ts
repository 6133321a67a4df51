import { NotConverged } from '../../src/engine/errors.js'
import { calendarDay } from '../../src/services/dates/day-numbers.js'
import { type DateScore, forecastOf, median, scoreDates, summarise } from '../simulation/date-scores.js'
import type { COASTS } from '../simulation/sea.js'
import { SETTINGS, type SettingName } from '../simulation/setting.js'
import { type FleetDraw, type SimulatedFleet, simulateFleet } from '../simulation/simulated-fleet.js'

const COASTS_IN_TURN: readonly (keyof typeof COASTS)[] = ['temperate', 'enclosed', 'warm', 'southern']
/** Each setting's fleets: some two thousand anodes and more. */
const DRAWS = {
  usual: { fleets: 20, boats: 30, years: 6 },
  sparse: { fleets: 80, boats: 7, years: 4 },
} as const satisfies Record<SettingName, object>
/** Marinas on the same water from which the parameters are taken for true, and the fleets for which that is done. */
const MARINAS_FOR_TRUTH = 4
const FLEETS_FOR_TRUTH = 6

/** A group of anodes with the shares that its intervals should hold. */
interface Line {
  readonly group: string
  readonly scores: readonly DateScore[]
}

/**
 * `npm run bench -- coverage [FLEETS] [BOATS] [--setting sparse] [--from START]`: how often the true crossing falls into the forecast intervals on simulated fleets
 * whose physics is richer than the model's, and how the median date compares with a straight line's and with that of the same model
 * when the parameters are as good as known.
 */
export async function run(args: readonly string[] = process.argv.slice(3)): Promise<void> {
  const setting = settingOf(optionOf(args, '--setting') ?? 'usual')
  const first = Number(optionOf(args, '--from') ?? 1)
  const usual = DRAWS[setting]
  const [fleets = usual.fleets, boats = usual.boats] = counts(args)
  const draw = (start: number): FleetDraw => {
    const coast = COASTS_IN_TURN[start % COASTS_IN_TURN.length]!
    return { start, boats, years: usual.years, coast, setting }
  }
  const scores: DateScore[] = []
  for (let start = first; start < first + fleets; start++) {
    const fleet = simulateFleet(draw(start))
    const began = performance.now()
    const own = scoresOf(fleet)
    const seconds = (performance.now() - began) / 1000
    scores.push(...own)
    print(`fleet ${start} ${draw(start).coast} ${calendarDay(fleet.asOf)} (${seconds.toFixed(1)} s)`, own)
  }
  print('all', scores)
  for (const { group, scores: some } of groupsOf(scores)) print(group, some)
  compareWithTruth(Math.min(fleets, FLEETS_FOR_TRUTH), (index) => draw(first + index - 1))
}

/** The numbers before the first option. */
function counts(args: readonly string[]): number[] {
  const options = args.findIndex((arg) => arg.startsWith('--'))
  return args.slice(0, options < 0 ? args.length : options).map(Number)
}

function optionOf(args: readonly string[], name: string): string | undefined {
  const at = args.indexOf(name)
  return at < 0 ? undefined : args[at + 1]
}

function settingOf(wanted: string): SettingName {
  const found = (Object.keys(SETTINGS) as SettingName[]).find((name) => name === wanted)
  if (found === undefined) throw new Error(`--setting is one of ${Object.keys(SETTINGS).join(', ')}`)
  return found
}

/** None for a fleet whose fit does not settle: the run goes on, and ends as failed. */
function scoresOf(fleet: SimulatedFleet, known: SimulatedFleet = fleet): DateScore[] {
  try {
    const { history, forecast } = forecastOf(known)
    return scoreDates(fleet, history, forecast)
  } catch (error) {
    if (!(error instanceof NotConverged)) throw error
    process.stdout.write(`FAILED on ${calendarDay(fleet.asOf)}: ${error.message}\n`)
    process.exitCode = 1
    return []
  }
}

function groupsOf(scores: readonly DateScore[]): Line[] {
  const of = (group: string, is: (score: DateScore) => boolean): Line => ({ group, scores: scores.filter(is) })
  return [
    of('never weighed', ({ truth }) => !truth.isWeighed),
    of('weighed', ({ truth }) => truth.isWeighed),
    of('without faults', ({ truth }) => !truth.isFaulty),
    of('date passed', ({ asOf, replace }) => daysTo(asOf, replace) <= 0),
    of('date within half a year', ({ asOf, replace }) => between(daysTo(asOf, replace), 0, 182)),
    of('date within two years', ({ asOf, replace }) => between(daysTo(asOf, replace), 182, 730)),
    of('date later', ({ asOf, replace }) => daysTo(asOf, replace) > 730),
    of('crossed already', ({ remainingDays }) => remainingDays <= 0),
    of('due within half a year', ({ remainingDays }) => remainingDays > 0 && remainingDays <= 182),
    of('due within two years', ({ remainingDays }) => remainingDays > 182 && remainingDays <= 730),
    of('due later', ({ remainingDays }) => remainingDays > 730),
    ...[...new Set(scores.map(({ truth }) => truth.alloy))].map((alloy) =>
      of(alloy, ({ truth }) => truth.alloy === alloy),
    ),
    ...[...new Set(scores.map(({ truth }) => truth.shape))].map((shape) =>
      of(shape, ({ truth }) => truth.shape === shape),
    ),
    ...[0, 1, 2, 3].map((quarter) =>
      of(`asked in quarter ${quarter + 1}`, (score) => quarterOf(score.asOf) === quarter),
    ),
  ]
}

const daysTo = (asOf: number, { p50 }: DateScore['replace']) => (p50 ?? Infinity) - asOf
const between = (days: number, low: number, high: number) => days > low && days <= high

function quarterOf(day: number): number {
  return Math.floor((Number(calendarDay(day).slice(5, 7)) - 1) / 3)
}

function print(group: string, scores: readonly DateScore[]): void {
  if (scores.length === 0) return
  const {
    anodes,
    inside80,
    inside90,
    before80,
    after80,
    medianError,
    medianBias,
    lineMedianError,
    pencilMedianError,
    knowingMedianError,
  } = summarise(scores)
  const share = (value: number) => `${(100 * value).toFixed(1)} %`.padStart(7)
  const log = (value: number) => (Number.isNaN(value) ? '–' : value.toFixed(3))
  process.stdout.write(
    `${group.padEnd(38)}${String(anodes).padStart(5)} anodes: ${share(inside80)} in 80 (${share(before80)} early,${share(after80)} late), ` +
      `${share(inside90)} in 90; log error ${log(medianError)}, bias ${log(medianBias)}, line ${log(lineMedianError)}, over the calendar ${log(pencilMedianError)}, all-knowing ${log(knowingMedianError)}\n`,
  )
}

/**
 * The model's parameters have no true values where the physics is another. What stands for them are those fitted to several
 * marinas on the same water, which share no boat and no berth with the first: only through the parameters do they tell it anything.
 */
function compareWithTruth(fleets: number, draw: (start: number) => FleetDraw): void {
  const alone: number[] = []
  const informed: number[] = []
  for (let start = 1; start <= fleets; start++) {
    const one = simulateFleet(draw(start))
    alone.push(...errorsOf(one, one))
    informed.push(...errorsOf(one, simulateFleet({ ...draw(start), marinas: MARINAS_FOR_TRUTH })))
  }
  const [own, known] = [median(alone), median(informed)]
  process.stdout.write(
    `${fleets} fleets alone: log error ${own.toFixed(3)}; with the parameters of ${MARINAS_FOR_TRUTH} such fleets: ${known.toFixed(3)}; ratio ${(own / known).toFixed(3)}\n`,
  )
}

/** Of the first fleet's anodes, forecast together with all that `known` holds. */
function errorsOf(fleet: SimulatedFleet, known: SimulatedFleet): number[] {
  return scoresOf(fleet, known).flatMap(({ logError }) => (logError === null ? [] : [Math.abs(logError)]))
}
