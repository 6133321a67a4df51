import { type Evidence, evidence } from './evidence.js'
import { mean, median } from './figures.js'
import type { BoatView, ComparedInterval } from './fleet-view.js'
import { isMostlyAt, placesOf } from './places.js'
import { isDuring, type Scene } from './scene.js'
import { isExposed } from './shore-exposure.js'

/** A log rate this far off counts as off: a factor of 1.4, about the usual spread between boats. Convention. */
const CLEARLY_OFF = 0.35
/** Of an anomaly's excess: above the upper share it goes on, below the lower it is over. Convention. */
const GOES_ON = 0.55
const IS_OVER = 0.3
/** A factor of 1.2: it may be chance. Convention. */
const SOMEWHAT_OFF = 0.18
const LEAST_NEIGHBOURS = 2
/** Intervals that the level of an unknown boat counts as: boats differ by about as much as one interval does from the next. Convention. */
const LEVEL_SHRINKAGE = 1

/** Whether the loss was once, ended with the anode, or goes on in later intervals at the same positions. */
export function lastingEvidence(scene: Scene): Evidence[] {
  if (scene.sign === 0) return []
  const abnormal = intervalsAtPositions(scene).filter(({ to }) => to > scene.from)
  if (abnormal.length < 2) return []
  const level = levelBefore(scene, scene.boats.length === 1 ? scene.boats[0]!.intervals : [])
  const peak = abnormal.reduce((most, each) => (excess(scene, each) > excess(scene, most) ? each : most))
  const most = aboveLevel(scene, level, peak)
  const shareOf = (some: readonly ComparedInterval[]) => mean(some.map((each) => aboveLevel(scene, level, each))) / most
  const later = abnormal.filter(({ from }) => from >= peak.to)
  if (later.length === 0 || most < CLEARLY_OFF) return []
  if (shareOf(later) >= GOES_ON) return [lasting('lasting')]
  const ofTheSame = later.filter(({ anode }) => anode === peak.anode)
  const ofOthers = later.filter(({ anode }) => anode !== peak.anode)
  if (ofTheSame.length > 0 && shareOf(ofTheSame) <= IS_OVER) return [lasting('once')]
  if (ofTheSame.length === 0 && shareOf(ofOthers) <= IS_OVER) return [lasting('with-the-anode')]
  return []
}

function lasting(state: 'once' | 'with-the-anode' | 'lasting'): Evidence {
  return evidence('lasting', state, `lasting/${state}`, {})
}

/** How the boat's other anodes did meanwhile, where one anode stands out. */
export function sistersEvidence(scene: Scene): Evidence[] {
  const { anomaly, sign, boats } = scene
  if (sign === 0 || anomaly.scope !== 'anode' || boats.length !== 1) return []
  const sisters = boats[0]!.intervals.filter((each) => !anomaly.anodes.includes(each.anode) && isDuring(scene, each))
  const ownFrom = Math.min(...intervalsAtPositions(scene).flatMap(({ from, to }) => (to > scene.from ? [from] : [])))
  const meanwhile = sisters.filter(({ to }) => to > ownFrom)
  if (meanwhile.length === 0) return []
  const level = levelOf(boats[0]!.intervals.filter(({ to }) => to <= scene.from))
  const off = mean(meanwhile.map((each) => aboveLevel(scene, level, each)))
  const state = off > CLEARLY_OFF ? 'same-way' : off < -CLEARLY_OFF ? 'opposite' : 'usual'
  return [evidence('sisters', state, `sisters/${state}`, { factor: Math.exp(sign * off) })]
}

/** How the boats near by did meanwhile, where one boat or anode stands out: those plugged in without an isolator, if it is so itself. */
export function neighboursEvidence(scene: Scene): Evidence[] {
  const { anomaly, sign, fleet, boats } = scene
  if (sign === 0 || anomaly.scope === 'berth' || anomaly.scope === 'pontoon') return []
  const places = placesOf(scene)
  const near = [...fleet.boats.values()].flatMap((boat) => {
    if (boats.includes(boat)) return []
    const there = boat.intervals.filter((each) => isDuring(scene, each) && isMostlyAt(each, places))
    return there.length === 0
      ? []
      : [{ isExposed: isExposed(boat, scene.from), off: offTheirLevel(scene, boat, there) }]
  })
  const exposed = near.filter((each) => each.isExposed)
  const isLinked = boats.some((boat) => isExposed(boat, scene.from)) && exposed.length >= LEAST_NEIGHBOURS
  const compared = isLinked ? exposed : near
  if (compared.length < LEAST_NEIGHBOURS) return []
  const off = median(compared.map((each) => each.off))
  const state = likeness(off)
  const code = isLinked ? (`neighbours-plugged-in/${state}` as const) : (`neighbours/${state}` as const)
  return [evidence('neighbours', state, code, { boats: compared.length, factor: Math.exp(sign * off) })]
}

/** How other boats did meanwhile at the very berth. */
export function berthMatesEvidence(scene: Scene): Evidence[] {
  const { sign, fleet, boats, anomaly } = scene
  const during = boats.flatMap(({ intervals }) => intervals.filter((each) => isDuring(scene, each)))
  const berths = new Set(during.flatMap((each) => mainBerth(each) ?? []))
  if (sign === 0 || berths.size !== 1 || anomaly.scope === 'berth' || anomaly.scope === 'pontoon') return []
  const others = [...fleet.boats.values()].flatMap((boat) => {
    if (boats.includes(boat)) return []
    const there = boat.intervals.filter((each) => isDuring(scene, each) && berths.has(mainBerth(each) ?? ''))
    return there.length === 0 ? [] : [offTheirLevel(scene, boat, there)]
  })
  if (others.length === 0) return []
  const off = mean(others)
  const state = likeness(off)
  const values = { count: others.length, factor: Math.exp(sign * off) }
  return [evidence('berth-mates', state, `berth-mates/${state}`, values)]
}

function offTheirLevel(scene: Scene, { intervals }: BoatView, there: readonly ComparedInterval[]): number {
  const level = levelOf(intervals.filter(({ to }) => to <= scene.from))
  return mean(there.map((each) => aboveLevel(scene, level, each)))
}

/** @param off log of the factor in the direction of the anomaly */
function likeness(off: number): 'same-way' | 'somewhat' | 'usual' {
  return off > CLEARLY_OFF ? 'same-way' : off > SOMEWHAT_OFF ? 'somewhat' : 'usual'
}

/** Whether the anomaly went along as the boat moved to another berth. */
export function moveEvidence(scene: Scene): Evidence[] {
  const { anomaly, sign, boats } = scene
  if (sign === 0 || boats.length !== 1 || anomaly.scope === 'berth' || anomaly.scope === 'pontoon') return []
  const own = boats[0]!.intervals.filter(
    ({ to, anode }) => to > scene.from && (anomaly.scope === 'boat' || anomaly.anodes.includes(anode)),
  )
  const first = own.reduce<ComparedInterval | null>(
    (least, each) => (least === null || each.to < least.to ? each : least),
    null,
  )
  const berth = first === null ? null : mainBerth(first)
  if (berth === null) return []
  const before = own.filter((each) => mainBerth(each) === berth)
  const after = own.filter(
    (each) => isSomewhereElse(each, berth) && each.from >= Math.min(...before.map(({ to }) => to)) - 1,
  )
  if (after.length === 0) return []
  const then = mean(before.map((each) => excess(scene, each)))
  if (then < CLEARLY_OFF) return []
  const share = mean(after.map((each) => excess(scene, each))) / then
  if (share >= GOES_ON) return [evidence('after-move', 'followed', 'after-move/followed', {})]
  if (share > IS_OVER) return []
  return [evidence('after-move', 'stayed', 'after-move/stayed', {})]
}

/** By how much an interval is off in the direction of the anomaly, above its boat's own level. */
function aboveLevel(scene: Scene, level: number, interval: ComparedInterval): number {
  return scene.sign * (interval.excess - level)
}

/** A boat's own level: mean excess of what the anomaly leaves alone, drawn towards nothing where that is little. Convention. */
function levelOf(unaffected: readonly ComparedInterval[]): number {
  return unaffected.reduce((sum, { excess }) => sum + excess, 0) / (unaffected.length + LEVEL_SHRINKAGE)
}

/** The level of a boat before the anomaly, or, where one anode stands out, of its other anodes. */
function levelBefore(scene: Scene, intervals: readonly ComparedInterval[]): number {
  const isAlone = scene.anomaly.scope === 'anode'
  return levelOf(
    intervals.filter(({ to, anode }) => to <= scene.from || (isAlone && !scene.anomaly.anodes.includes(anode))),
  )
}

/** Excess in the direction of the anomaly. */
function excess({ sign }: Scene, interval: ComparedInterval): number {
  return sign * interval.excess
}

function intervalsAtPositions({ anodes, boats }: Scene): ComparedInterval[] {
  const places = new Set(anodes.map(({ boat, history }) => `${boat.boat}\n${history?.position}`))
  return boats.flatMap(({ boat, intervals }) =>
    intervals.filter(({ interval }) => places.has(`${boat}\n${interval.context.anode.history.position}`)),
  )
}

function mainBerth({ interval }: ComparedInterval): string | null {
  const { byBerth, days } = interval.context.exposure
  for (const [berth, there] of byBerth) if (there > days / 2) return berth
  return null
}

function isSomewhereElse(interval: ComparedInterval, berth: string): boolean {
  const { byBerth, days } = interval.interval.context.exposure
  return (byBerth.get(berth) ?? 0) < 0.1 * days
}
