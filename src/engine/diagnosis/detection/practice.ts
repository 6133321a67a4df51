import { dueConsumption, type ObservedAnode } from '../../rates/mass-states.js'
import { inspectionIntervalDays, normalLifeDays, normalLifeRangeDays } from '../../rates/normal-life.js'
import type { ObservedBoat } from '../../rates/rate-intervals.js'
import { normalQuantile } from '../../statistics/distributions/normal.js'

/** How the wear of an anode since it was fitted stands to common practice, whatever its like do. */
export interface PracticeJudgement {
  readonly direction: 'fast' | 'slow'
  /** Normal score of its rate among those that practice calls common: above 0 is faster. */
  readonly score: number
  /** log of its rate over the middle of the common ones, with the standard deviation that its weighings leave. */
  readonly logRatio: { readonly mean: number; readonly sd: number }
}

/** Due within two thirds of the shortest common life: about the five or six months at which practice speaks of a fault. */
const SPENT_SOON_SHARE = 2 / 3
/** "Almost unchanged" after a season (`little-change`): less than this share of the net mass gone. Convention. */
const ALMOST_UNCHANGED = 0.05
/** Both must hold for the loss two standard deviations to the other side. Convention. */
const SURE_SDS = 2

/**
 * Judges an anode by common practice: due far sooner than the shortest common life, or almost unchanged after a season in the water.
 *
 * @returns `null` where practice finds nothing to say
 * @see reference `salt-temperate`, `little-change`, `interval`
 */
export function judgeByPractice(anode: ObservedAnode): PracticeJudgement | null {
  const { loss, sd, exposureDays } = lossOf(anode)
  if (!(exposureDays > 0) || isSettled(anode)) return null
  const atLeast = loss - SURE_SDS * sd
  const [shortest] = normalLifeRangeDays()
  if (atLeast > 0 && (dueConsumption(anode) / atLeast) * exposureDays < SPENT_SOON_SHARE * shortest)
    return rankByPractice('fast', anode)
  const isSeason = anode.fromFitting && exposureDays >= inspectionIntervalDays()
  if (isSeason && loss + SURE_SDS * sd < ALMOST_UNCHANGED * anode.fitted.netMassG) return rankByPractice('slow', anode)
  return null
}

/** What was lost between the first mass and the last [g], its standard deviation, and the days in the water. */
function lossOf({ states }: ObservedAnode) {
  const [first, last] = [states[0]!, states.at(-1)!]
  const sd = Math.sqrt(first.variance + last.variance)
  return { loss: last.consumption - first.consumption, sd, exposureDays: last.exposureDays }
}

/** Part of its wear was looked into and settled: its whole says nothing new. */
function isSettled({ history }: ObservedAnode): boolean {
  return history.explained?.some(({ to }) => to !== null) ?? false
}

/** The common range of lives is taken for the middle 80 % of them. Convention. */
const RANGE_SHARE = 0.8

/** Where an anode's wear since it was fitted stands among those that practice calls common. */
export function rankByPractice(direction: 'fast' | 'slow', anode: ObservedAnode): PracticeJudgement {
  const { loss, sd, exposureDays } = lossOf(anode)
  const common = (dueConsumption(anode) / normalLifeDays()) * exposureDays
  // A loss within its error is no smaller than half of that.
  const size = Math.max(loss, sd / 2)
  const mean = Math.log(size / common)
  const [shortest, longest] = normalLifeRangeDays()
  const spread = Math.log(longest / shortest) / (2 * normalQuantile(0.5 + RANGE_SHARE / 2))
  return { direction, score: mean / spread, logRatio: { mean, sd: Math.min(1, sd / size) } }
}

/** Anodes of a boat that practice judges alike: one finding for the boat where most of its places share it. */
export interface PracticeFinding {
  readonly boat: string
  readonly scope: 'anode' | 'boat'
  readonly anodes: readonly string[]
  readonly judgement: PracticeJudgement
}

/**
 * @param places keys of the boat's anodes by place, in order of time
 * @param isKnown whether an anode's wear that way is part of an anomaly already
 */
export function findByPractice(
  boat: ObservedBoat,
  places: readonly (readonly string[])[],
  isKnown: (anode: string, direction: 'fast' | 'slow') => boolean,
): PracticeFinding[] {
  const anodes = new Map(boat.anodes.map((anode) => [anode.history.key, anode]))
  return (['fast', 'slow'] as const).flatMap((direction): PracticeFinding[] => {
    const found = places.flatMap((keys) => {
      const own = keys.flatMap((key) => {
        const judgement = judgeByPractice(anodes.get(key)!)
        return judgement?.direction === direction ? [{ key, judgement }] : []
      })
      return own.length === 0 || own.some(({ key }) => isKnown(key, direction)) ? [] : [own]
    })
    const name = boat.history.boat
    if (isOfBoat(found, places)) return [findingOf(name, 'boat', found.flat())]
    return found.map((own) => findingOf(name, 'anode', own))
  })
}

/** Whether what was found at some of a boat's places is one finding of the boat: at two at least, and at most of them. */
export function isOfBoat(found: readonly unknown[], places: readonly unknown[]): boolean {
  return found.length > 1 && 2 * found.length > places.length
}

function findingOf(
  boat: string,
  scope: 'anode' | 'boat',
  own: readonly { readonly key: string; readonly judgement: PracticeJudgement }[],
): PracticeFinding {
  const strongest = own.reduce((a, b) => (Math.abs(b.judgement.score) > Math.abs(a.judgement.score) ? b : a))
  return { boat, scope, anodes: own.map(({ key }) => key), judgement: strongest.judgement }
}
