import type { BerthSide } from '../../../../contract/vocabulary.js'
import { turnedRound } from './geometry.js'
import {
  type Berth,
  type Harbour,
  isBerthNamed,
  isPontoonNamed,
  type Line,
  NATURAL,
  type Pontoon,
  type Waiting,
  whereIs,
} from './harbour.js'

/** What somebody draws, one thing at a time: it can be undone, and done again on what somebody else has drawn meanwhile. */
export type Step =
  | ({ readonly kind: 'add-pontoon'; readonly key: string; readonly name: string; readonly line: Line } & NewBerths)
  /** One on record that is not drawn yet, with its berths. */
  | { readonly kind: 'draw-pontoon'; readonly pontoon: string; readonly line: Line }
  | { readonly kind: 'set-line'; readonly pontoon: string; readonly line: Partial<Line> }
  | { readonly kind: 'turn-round'; readonly pontoon: string }
  | { readonly kind: 'rename-pontoon'; readonly pontoon: string; readonly name: string }
  | { readonly kind: 'take-pontoon'; readonly pontoon: string }
  | {
      readonly kind: 'add-berth'
      readonly pontoon: string
      readonly side: BerthSide
      readonly key: string
      readonly name: string
    }
  | {
      readonly kind: 'put-berth'
      readonly berth: string
      readonly pontoon: string
      readonly side: BerthSide
      readonly index: number
    }
  | { readonly kind: 'rename-berth'; readonly berth: string; readonly name: string }
  | { readonly kind: 'take-berth'; readonly berth: string }
  | { readonly kind: 'remove-berth'; readonly berth: string }

interface NewBerths {
  /** Names from the shore outwards. */
  readonly left: readonly string[]
  readonly right: readonly string[]
}

/** @returns null where it cannot be done: what it is about is gone, or its name is taken */
export function applied(harbour: Harbour, step: Step): Harbour | null {
  switch (step.kind) {
    case 'add-pontoon':
      return added(harbour, step)
    case 'draw-pontoon':
      return drawn(harbour, step.pontoon, step.line)
    case 'set-line':
      return withPontoon(harbour, step.pontoon, (pontoon) => ({ ...pontoon, ...step.line }))
    case 'turn-round':
      return withPontoon(harbour, step.pontoon, turnedRound)
    case 'rename-pontoon':
      if (isPontoonNamed(harbour, step.name)) return null
      return withPontoon(harbour, step.pontoon, (pontoon) => ({ ...pontoon, name: step.name, isRenamed: true }))
    case 'take-pontoon':
      return withoutPontoon(harbour, step.pontoon)
    case 'add-berth':
      if (isBerthNamed(harbour, step.name)) return null
      return withPontoon(harbour, step.pontoon, (pontoon) => ({
        ...pontoon,
        [step.side]: [...pontoon[step.side], newBerth(step.key, step.name)],
      }))
    case 'put-berth':
      return put(harbour, step)
    case 'rename-berth':
      return isBerthNamed(harbour, step.name) ? null : renamed(harbour, step.berth, step.name)
    case 'take-berth':
      return taken(harbour, step.berth)
    case 'remove-berth':
      return removed(harbour, step.berth)
  }
}

/** The steps one after the other; those that cannot be done are left out and told. */
export function allApplied(harbour: Harbour, steps: readonly Step[]): { harbour: Harbour; done: readonly Step[] } {
  let now = harbour
  const done = steps.filter((step) => {
    const next = applied(now, step)
    now = next ?? now
    return next !== null
  })
  return { harbour: now, done }
}

function newBerth(key: string, name: string): Berth {
  return { key, isNew: true, name, isRenamed: false, hasStays: false, home: null }
}

function added(harbour: Harbour, step: Extract<Step, { kind: 'add-pontoon' }>): Harbour | null {
  const names = [...step.left, ...step.right]
  if (isPontoonNamed(harbour, step.name) || names.some((name) => isBerthNamed(harbour, name))) return null
  const side = (of: BerthSide) => step[of].map((name) => newBerth(`${step.key} ${name}`, name))
  const made = { key: step.key, isNew: true, name: step.name, isRenamed: false, ...step.line }
  return { ...harbour, pontoons: [...harbour.pontoons, { ...made, left: side('left'), right: side('right') }] }
}

/** Berths alternate from side to side, as the plan of the pontoons has them where nothing is drawn. */
function drawn(harbour: Harbour, key: string, line: Line): Harbour | null {
  const group = harbour.waiting.find(({ pontoon }) => pontoon?.key === key)
  if (!group?.pontoon) return null
  const side = (of: 0 | 1) => group.berths.filter((_, index) => index % 2 === of)
  const pontoon = { ...group.pontoon, isNew: false, isRenamed: false, ...line, left: side(0), right: side(1) }
  return {
    ...harbour,
    pontoons: [...harbour.pontoons, pontoon],
    waiting: harbour.waiting.filter((each) => each !== group),
  }
}

function withPontoon(harbour: Harbour, key: string, change: (pontoon: Pontoon) => Pontoon): Harbour | null {
  if (!harbour.pontoons.some((pontoon) => pontoon.key === key)) return null
  return { ...harbour, pontoons: harbour.pontoons.map((pontoon) => (pontoon.key === key ? change(pontoon) : pontoon)) }
}

/** Its berths stay on it, without a place; what was new goes. */
function withoutPontoon(harbour: Harbour, key: string): Harbour | null {
  const pontoon = harbour.pontoons.find((each) => each.key === key)
  if (pontoon === undefined) return null
  const berths = [...pontoon.left, ...pontoon.right].filter(({ isNew }) => !isNew)
  const home = berths.filter((berth) => berth.home === key)
  const others = berths.filter((berth) => berth.home !== key)
  const without = { ...harbour, pontoons: harbour.pontoons.filter((each) => each !== pontoon) }
  return waitingWith(waitingWith(without, { key, name: pontoon.name }, home), null, others)
}

function waitingWith(harbour: Harbour, pontoon: Waiting['pontoon'], berths: readonly Berth[]): Harbour {
  if (berths.length === 0) return harbour
  const before = harbour.waiting.find((group) => group.pontoon?.key === pontoon?.key)
  const all = [...(before?.berths ?? []), ...berths].sort((a, b) => NATURAL.compare(a.name, b.name))
  return { ...harbour, waiting: [...harbour.waiting.filter((group) => group !== before), { pontoon, berths: all }] }
}

function withoutBerth(harbour: Harbour, key: string): Harbour {
  const others = (berths: readonly Berth[]) => berths.filter((berth) => berth.key !== key)
  return {
    ...harbour,
    pontoons: harbour.pontoons.map((pontoon) => ({
      ...pontoon,
      left: others(pontoon.left),
      right: others(pontoon.right),
    })),
    waiting: harbour.waiting
      .map((group) => ({ ...group, berths: others(group.berths) }))
      .filter(({ berths }) => berths.length > 0),
  }
}

function put(harbour: Harbour, { berth: key, pontoon, side, index }: Extract<Step, { kind: 'put-berth' }>) {
  const found = whereIs(harbour, key)
  if (found === null) return null
  return withPontoon(withoutBerth(harbour, key), pontoon, (onto) => ({
    ...onto,
    [side]: onto[side].toSpliced(index, 0, found.berth),
  }))
}

function renamed(harbour: Harbour, key: string, name: string): Harbour | null {
  const found = whereIs(harbour, key)
  // A berth that waits is not sent along: it is renamed once it has a place.
  if (!found?.pontoon) return null
  const change = (berths: readonly Berth[]) =>
    berths.map((berth) => (berth.key === key ? { ...berth, name, isRenamed: true } : berth))
  return withPontoon(harbour, found.pontoon.key, (on) => ({ ...on, left: change(on.left), right: change(on.right) }))
}

/** A berth on record waits for another place, on no pontoon; a new one was a slip. */
function taken(harbour: Harbour, key: string): Harbour | null {
  const found = whereIs(harbour, key)
  if (found === null) return null
  const without = withoutBerth(harbour, key)
  return found.berth.isNew ? without : waitingWith(without, null, [found.berth])
}

function removed(harbour: Harbour, key: string): Harbour | null {
  const found = whereIs(harbour, key)
  if (found === null || found.berth.hasStays) return null
  const without = withoutBerth(harbour, key)
  return found.berth.isNew ? without : { ...without, removed: [...without.removed, key] }
}
