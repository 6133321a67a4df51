import { adjustPValues } from '../../statistics/false-discovery.js'
import type { Scope } from '../anomaly.js'
import type { BoatSearch, NullScales, Yardstick } from './boat-search.js'
import { type Candidate, directionOf } from './candidate.js'
import { driftDesign } from './drift.js'
import type { JudgedLoss } from './judged-losses.js'
import { nullScale } from './null-scale.js'
import type { SharedSearch } from './shared-search.js'

/** A candidate that is taken for an anomaly. */
export interface Chosen {
  readonly candidate: Candidate
  readonly adjustedP: number
}

/** All that is searched of a fleet. */
export interface Searches {
  readonly places: readonly BoatSearch[]
  readonly boats: readonly BoatSearch[]
  readonly shared: SharedSearch
}

/**
 * Chooses anomalies until nothing stands out any more: the strongest first, at the level that explains it best, for a fault of a
 * whole boat is stronger in its anodes together than in each. What it explains is left out, and the rest is looked at again. What
 * else stands out in the same boat at the same time belongs to it: the other anodes carry what a failing one does not.
 */
export function chooseAnomalies(
  searches: Searches,
  falseDiscoveryRate: number,
  isSupported: (chosen: Chosen) => boolean = () => false,
): Chosen[] {
  const families = familiesOf(searches)
  const limits = limitsOf(families, falseDiscoveryRate)
  const explained = new Set<JudgedLoss>()
  const chosen: Chosen[] = []
  let current = [...families.values()].flatMap(({ candidates }) => candidates)
  for (;;) {
    const open = current.filter((each) => isOpen(each, limits) && each.losses.some((loss) => !explained.has(loss)))
    const strongest = open.reduce<Candidate | null>(
      (best, each) => (best === null || Math.abs(each.score) > Math.abs(best.score) ? each : best),
      null,
    )
    if (strongest === null) return [...chosen, ...supported(current, chosen, limits, isSupported)]
    // As it stands now, before what it explains is left out.
    const candidate = { ...strongest }
    if (!chosen.some((other) => belongsTo(candidate, other.candidate)))
      chosen.push({ candidate, adjustedP: limits.get(candidate.scope)!.adjust(candidate.p) })
    const boats = new Set(candidate.losses.map(({ boat }) => boat))
    for (const loss of candidate.losses) explained.add(loss)
    for (const search of [...searches.places, ...searches.boats])
      if (boats.has(search.group.boat)) search.leaveOut(explained)
    searches.shared.renew(boats)
    current = candidatesOf(searches, families, current, boats)
  }
}

/** Of what does not stand out by itself: what is supported by something other than its rate, the least likely by chance first. */
function supported(
  rest: readonly Candidate[],
  chosen: readonly Chosen[],
  limits: ReadonlyMap<Scope, Limit>,
  isSupported: (chosen: Chosen) => boolean,
): Chosen[] {
  const added: Chosen[] = []
  for (const candidate of [...rest].sort((a, b) => a.p - b.p)) {
    if ([...chosen, ...added].some((other) => belongsTo(candidate, other.candidate))) continue
    const each = { candidate, adjustedP: limits.get(candidate.scope)!.adjust(candidate.p) }
    if (isSupported(each)) added.push(each)
  }
  return added
}

interface Family {
  readonly yardstick: Yardstick
  readonly candidates: readonly Candidate[]
}

function familiesOf(searches: Searches): Map<Scope, Family> {
  const { shared } = searches
  const scales = { berth: sharedScalesOf(shared, 'berth'), pontoon: sharedScalesOf(shared, 'pontoon') }
  const candidates = shared.best(scales)
  const sharedFamily = (wanted: 'berth' | 'pontoon'): Family => ({
    yardstick: { scales: scales[wanted], design: null },
    candidates: candidates.filter(({ scope }) => scope === wanted),
  })
  return new Map<Scope, Family>([
    ['anode', familyOf(searches.places)],
    ['boat', familyOf(searches.boats)],
    ['berth', sharedFamily('berth')],
    ['pontoon', sharedFamily('pontoon')],
  ])
}

function familyOf(searches: readonly BoatSearch[]): Family {
  const yardstick = { scales: scalesOf(searches), design: driftDesign(searches) }
  return { yardstick, candidates: searches.flatMap((search) => search.best(yardstick) ?? []) }
}

function scalesOf(searches: readonly BoatSearch[]): NullScales {
  const scored = searches.flatMap((search) => search.scored)
  const whole = scored.filter(({ stretch }) => stretch.isWhole)
  const part = scored.filter(({ stretch }) => stretch.isSingle && !stretch.isWhole)
  return { whole: nullScale(whole.map(({ score }) => score)), part: nullScale(part.map(({ score }) => score)) }
}

function sharedScalesOf(shared: SharedSearch, scope: 'berth' | 'pontoon'): NullScales {
  const { whole, part } = shared.scores(scope)
  return { whole: nullScale(whole), part: nullScale(part) }
}

function isOpen({ scope, p, isDrift }: Candidate, limits: ReadonlyMap<Scope, Limit>): boolean {
  return isDrift || p <= limits.get(scope)!.p
}

interface Limit {
  /** Largest p-value that is taken. */
  readonly p: number
  readonly adjust: (p: number) => number
}

/** What the false discovery rate allows in each family, from its first look. */
function limitsOf(families: ReadonlyMap<Scope, Family>, rate: number): Map<Scope, Limit> {
  return new Map(
    [...families].map(([scope, { candidates }]) => {
      const pValues = candidates.map(({ p }) => p).sort((a, b) => a - b)
      const adjusted = adjustPValues(pValues, 'benjamini-hochberg')
      const p = pValues.reduce((largest, each, i) => (adjusted[i]! <= rate ? Math.max(largest, each) : largest), 0)
      const adjust = (value: number) => {
        const at = pValues.findIndex((each) => each >= value)
        return at < 0 ? 1 : adjusted[at]!
      }
      return [scope, { p, adjust }]
    }),
  )
}

function candidatesOf(
  searches: Searches,
  families: ReadonlyMap<Scope, Family>,
  before: readonly Candidate[],
  boats: ReadonlySet<string>,
): Candidate[] {
  const kept = before.filter(({ boat }) => boat !== null && !boats.has(boat))
  const yardstick = (scope: Scope) => families.get(scope)!.yardstick
  const renewed = [...searches.places, ...searches.boats]
    .filter(({ group }) => boats.has(group.boat))
    .flatMap((search) => search.best(yardstick(search.group.scope)) ?? [])
  const scales = { berth: yardstick('berth').scales, pontoon: yardstick('pontoon').scales }
  return [...kept, ...renewed, ...searches.shared.best(scales)]
}

/** What follows within so many days goes on with what was before. Convention. */
const SAME_FAULT_GAP_DAYS = 60

/** Whether a candidate is part of an anomaly found before: of the same boat or place, at the same time or next to it alike. */
function belongsTo(candidate: Candidate, anomaly: Candidate): boolean {
  const boats = new Set(anomaly.losses.map(({ boat }) => boat))
  const isSameBoat = candidate.boat !== null && anomaly.boat === candidate.boat
  const mine = candidate.losses.filter(({ boat }) => boats.has(boat))
  if (!isSameBoat && mine.length * 2 < candidate.losses.length) return false
  const gap =
    Math.max(candidate.stretch.from, anomaly.stretch.from) - Math.min(candidate.stretch.to, anomaly.stretch.to)
  if (gap < 0) return true
  return gap <= SAME_FAULT_GAP_DAYS && directionOf(candidate) === directionOf(anomaly)
}
