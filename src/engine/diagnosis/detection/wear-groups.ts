import type { AnodeHistory } from '../../rates/fleet-history.js'
import type { ObservedAnode } from '../../rates/mass-states.js'
import type { RateModel } from '../../rates/rate-model.js'
import type { JudgedLoss } from './judged-losses.js'

/** Losses that may share a change: those of the anodes that followed one another at one place of a boat, or of a whole boat. */
export interface WearGroup {
  readonly scope: 'anode' | 'boat'
  readonly boat: string
  /** In order of time. */
  readonly losses: readonly JudgedLoss[]
}

/** Every place and every boat that has losses, in order of their names. */
export function wearGroups(model: RateModel, losses: readonly JudgedLoss[]): WearGroup[] {
  const ofAnode = new Map<string, JudgedLoss[]>()
  for (const loss of losses) {
    const own = ofAnode.get(loss.anode)
    if (own === undefined) ofAnode.set(loss.anode, [loss])
    else own.push(loss)
  }
  const boats = [...model.boats].sort((a, b) => byName(a.history.boat, b.history.boat))
  return boats.flatMap(({ history: { boat }, anodes }): WearGroup[] => {
    const places = successions(anodes).map((keys) => keys.flatMap((key) => ofAnode.get(key) ?? []))
    const lived = places.filter((own) => own.length > 0).map(inTime)
    if (lived.length === 0) return []
    const whole = lived.length > 1 ? [{ scope: 'boat' as const, boat, losses: inTime(lived.flat()) }] : []
    return [...lived.map((own) => ({ scope: 'anode' as const, boat, losses: own })), ...whole]
  })
}

/** Keys of anodes by place: each next one of a position was fitted when one before it had gone. */
export function successions(anodes: readonly ObservedAnode[]): string[][] {
  const ordered = [...anodes].sort((a, b) => startOf(a) - startOf(b) || byName(a.history.key, b.history.key))
  const places: { last: AnodeHistory; keys: string[] }[] = []
  for (const anode of ordered) {
    const { history } = anode
    const free = places.filter(({ last }) => last.position === history.position && isGoneBy(last, startOf(anode)))
    // The one that was taken off last made room for it.
    const before = free.sort((a, b) => b.last.removedOn! - a.last.removedOn!)[0]
    if (before === undefined) places.push({ last: history, keys: [history.key] })
    else {
      before.last = history
      before.keys.push(history.key)
    }
  }
  return places.map(({ keys }) => keys)
}

const startOf = (anode: ObservedAnode) => anode.states[0]!.on
const isGoneBy = ({ removedOn }: AnodeHistory, day: number) => removedOn !== null && removedOn <= day

/** By the characters alone, whatever the locale. */
export function byName(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

function inTime(losses: readonly JudgedLoss[]): JudgedLoss[] {
  return [...losses].sort((a, b) => a.to - b.to || a.from - b.from || byName(a.anode, b.anode))
}
