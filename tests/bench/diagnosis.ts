import { calendarDay } from '../../src/services/dates/day-numbers.js'
import { type AbnormalFleet, simulateAbnormalFleet } from '../simulation/faults/abnormal-fleet.js'
import type { AbnormalWearName } from '../simulation/faults/abnormal-wear.js'
import { diagnoseFiles } from '../simulation/faults/diagnose-files.js'
import type { FaultTruth } from '../simulation/faults/fault.js'
import {
  causeLines,
  type FleetScore,
  onsetErrors,
  probabilityOf,
  reliability,
  type ScoredFault,
  type ScoredFinding,
  scoreFindings,
  topCause,
} from '../simulation/faults/score-findings.js'
import type { COASTS } from '../simulation/sea.js'

const COASTS_IN_TURN: readonly (keyof typeof COASTS)[] = ['temperate', 'enclosed', 'warm', 'southern']
const FLEETS = 20
/** Clean fleets lie this far from the faulty ones in their draws. */
const CLEAN_START = 500

/** A kind of fleets that is scored by itself. */
interface Trial {
  readonly name: string
  readonly wear: AbnormalWearName
  readonly clean: AbnormalWearName
  readonly boats: number
  readonly firstStart: number
}

const TRIALS: readonly Trial[] = [
  { name: 'usual', wear: 'usual', clean: 'clean', boats: 35, firstStart: 1 },
  { name: 'fresh', wear: 'usual', clean: 'clean', boats: 35, firstStart: 5001 },
  {
    name: 'held out',
    wear: 'held out',
    clean: 'clean, held out',
    boats: 22,
    firstStart: 2001,
  },
]

interface Options {
  readonly fleets: number
  /** First draw, where it is not the trial's own: fleets that nobody has looked at. */
  readonly from: number | undefined
  readonly trials: readonly Trial[]
  /** Tells each fault that was missed or taken for another, and each false alarm. */
  readonly isTelling: boolean
}

/**
 * `npm run bench -- diagnosis [--fleets N] [--trial usual|fresh|held-out] [--from START] [--tell]`: faults injected physically into simulated fleets, and
 * fleets without any; what is found, what is taken for its cause, how often nothing lies behind a finding. The rule by which a finding
 * is about a fault is in `tests/simulation/faults/score-findings.ts`.
 */
export async function run(args: readonly string[] = process.argv.slice(3)): Promise<void> {
  const { fleets, from, trials, isTelling } = optionsOf(args)
  for (const trial of trials) {
    const first = from ?? trial.firstStart
    const faulty = await scoreFleets(trial, trial.wear, first, fleets, isTelling)
    const clean = await scoreFleets(trial, trial.clean, first + CLEAN_START, fleets, isTelling)
    say(`\n${trial.name}: ${fleets} fleets of ${trial.boats} boats with faults, as many without\n`)
    tellCauses(faulty)
    tellAlarms('without faults', clean)
    tellAlarms('with faults', faulty)
    tellOnsets(faulty)
    tellReliability(faulty)
    const seconds = [...faulty, ...clean].reduce((sum, each) => sum + each.seconds, 0) / (2 * fleets)
    say(`time per fleet: ${seconds.toFixed(2)} s\n`)
  }
}

function optionsOf(args: readonly string[]): Options {
  const given = (flag: string) => (args.includes(flag) ? args[args.indexOf(flag) + 1] : undefined)
  const from = given('--from')
  const wanted = given('--trial')?.replace('-', ' ')
  return {
    fleets: Number(given('--fleets') ?? FLEETS),
    from: from === undefined ? undefined : Number(from),
    trials: TRIALS.filter(({ name }) => wanted === undefined || name === wanted),
    isTelling: args.includes('--tell'),
  }
}

interface TimedScore extends FleetScore {
  readonly fleet: AbnormalFleet
  /** From the files to the causes. */
  readonly seconds: number
}

async function scoreFleets(trial: Trial, wear: AbnormalWearName, first: number, count: number, isTelling: boolean) {
  const scores: TimedScore[] = []
  for (let start = first; start < first + count; start++) {
    const coast = COASTS_IN_TURN[start % COASTS_IN_TURN.length]!
    const fleet = simulateAbnormalFleet({ start, boats: trial.boats, years: 6, coast, wear })
    const began = performance.now()
    const diagnoses = await diagnoseFiles(fleet.rows, fleet.asOf)
    const seconds = (performance.now() - began) / 1000
    const score = scoreFindings(fleet, diagnoses)
    if (isTelling) tellMistakes(start, score)
    scores.push({ ...score, fleet, seconds })
  }
  return scores
}

function say(text: string): void {
  process.stdout.write(text)
}

function tellCauses(scores: readonly TimedScore[]): void {
  say(
    'cause                   injected  visible  found      cause first  mean P  scope right  one finding  found unseen  taken for\n',
  )
  for (const line of causeLines(scores.flatMap(({ faults }) => faults))) {
    const { found, visible } = line
    const unseen = `${line.foundInvisible}/${line.injected - visible}`
    say(
      `${line.cause.padEnd(24)}${String(line.injected).padStart(8)}${String(visible).padStart(9)}  ${share(found, visible)}` +
        `  ${share(line.firstRight, found)}  ${number(line.meanProbability)}  ${share(line.scopeRight, found)}` +
        `  ${share(line.single, found)}  ${unseen.padStart(8)}      ${takenFor(line.cause, scores)}\n`,
    )
  }
}

/** What visible faults of a cause were taken for instead, the commonest first. */
function takenFor(cause: string, scores: readonly TimedScore[]): string {
  const counts = new Map<string, number>()
  for (const { fault, main } of scores.flatMap(({ faults }) => faults)) {
    if (fault.cause !== cause || !fault.isVisible || main === null || topCause(main) === cause) continue
    counts.set(topCause(main), (counts.get(topCause(main)) ?? 0) + 1)
  }
  return [...counts]
    .sort((a, b) => b[1] - a[1])
    .map(([other, count]) => `${other} ${count}`)
    .join(', ')
}

function tellAlarms(group: string, scores: readonly TimedScore[]): void {
  const years = scores.reduce((sum, { fleet }) => sum + fleet.anodeYears, 0)
  const findings = scores.flatMap(({ findings: each }) => each)
  const alarms = findings.filter(({ judged }) => judged === 'false alarm')
  const by = (is: (finding: ScoredFinding) => boolean) => alarms.filter(is).length
  const noticed = (how: string) => by(({ diagnosis }) => diagnosis.anomaly.noticedBy === how)
  const tooSmall = findings.filter(({ judged }) => judged === 'too small by nature').length
  say(
    `false alarms ${group}: ${alarms.length} in ${years.toFixed(0)} anode-years, one in ${(years / alarms.length).toFixed(0)} ` +
      `(by interval ${noticed('interval')}, drift ${noticed('drift')}, reading ${noticed('reading')}; ` +
      `${by(({ isMistyped }) => isMistyped)} on masses typed wrong); ${tooSmall} rightly too small\n`,
  )
}

function tellOnsets(scores: readonly TimedScore[]): void {
  const faults = scores.flatMap(({ faults: each }) => each).filter(({ fault }) => fault.isVisible)
  const { days, inside } = onsetErrors(faults)
  const sizes = days.map(Math.abs).sort((a, b) => a - b)
  const bias = [...days].sort((a, b) => a - b)[days.length >> 1] ?? Number.NaN
  say(
    `onset of ${days.length} dated: half within ${sizes[sizes.length >> 1] ?? '–'} d, median ${bias} d late; ` +
      `${share(inside, days.length)} in the 80 % interval\n`,
  )
}

function tellReliability(scores: readonly TimedScore[]): void {
  say('top cause says    findings  mean P  right\n')
  for (const { from, to, findings, meanProbability, right } of reliability(scores.flatMap((score) => score.findings)))
    say(
      `${from.toFixed(2)} to ${to.toFixed(2)}${String(findings).padStart(14)}  ${number(meanProbability)}  ${share(right, findings)}\n`,
    )
}

function tellMistakes(start: number, { faults, findings }: FleetScore): void {
  for (const scored of faults) {
    const { fault, main } = scored
    if (fault.isVisible && main === null) say(`${start} MISSED ${inWords(fault)}\n`)
    if (main !== null && topCause(main) !== fault.cause) say(`${start} TAKEN FOR ${mistakenFor(scored)}\n`)
  }
  for (const { diagnosis, judged } of findings) {
    if (judged !== 'false alarm') continue
    const { scope, boat, anodes, direction, noticedBy, surprise, adjustedP } = diagnosis.anomaly
    say(
      `${start} FALSE ${scope} ${boat ?? ''} ${anodes.slice(0, 2).join(' ')} ${direction} by ${noticedBy}, surprise ${surprise.toFixed(1)}, ` +
        `p ${adjustedP?.toExponential(1) ?? '–'}: ${topCause(diagnosis)} ${diagnosis.causes[0]!.probability.toFixed(2)}\n`,
    )
  }
}

function inWords({ cause, scopes, boats, anodes, strength, directions, from, to }: FaultTruth): string {
  return `${cause} ${scopes[0]} ${boats.join(', ')} ${anodes[0]} ${directions.join('/')} ${calendarDay(from)}–${calendarDay(to)} strength ${strength.toFixed(1)}`
}

function mistakenFor({ fault, main }: ScoredFault): string {
  const { causes, anomaly } = main!
  const evidence = causes[0]!.evidence
    .filter(({ weight }) => Math.abs(weight) > 0.3)
    .map(({ code, values, weight }) => `\n      ${weight.toFixed(1)} ${code}: ${JSON.stringify(values)}`)
  return (
    `${causes[0]!.cause} ${causes[0]!.probability.toFixed(2)} (right: ${probabilityOf(main!, fault.cause).toFixed(2)}): ${inWords(fault)}; ` +
    `found as ${anomaly.direction} ${anomaly.scope} by ${anomaly.noticedBy}${evidence.join('')}`
  )
}

function share(part: number, whole: number): string {
  const percent = whole === 0 ? '–' : `${((100 * part) / whole).toFixed(0)} %`
  return `${String(part).padStart(3)} ${percent.padStart(6)}`
}

function number(value: number): string {
  return (Number.isNaN(value) ? '–' : value.toFixed(2)).padStart(5)
}
