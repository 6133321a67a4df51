import type { RateModel } from '../../rates/rate-model.js'
import { SCOPES, type Scope } from '../anomaly.js'
import type { BoatSearch } from './boat-search.js'
import type { Candidate } from './candidate.js'
import type { JudgedLoss } from './judged-losses.js'
import { type Panel, PanelView } from './panel.js'
import { type Stretch, shareIn } from './scan.js'
import { byName } from './wear-groups.js'

/** Where boats lay, and which boats lay there. */
export class Whereabouts {
  readonly #model: RateModel
  readonly #pontoonOf: ReadonlyMap<string, string | null>
  readonly #panelsAt = new Map<string, Set<Panel>>()
  readonly #panelOf: ReadonlyMap<string, Panel>

  /** @param panels of whole boats, by name */
  constructor(model: RateModel, pontoonOf: ReadonlyMap<string, string | null>, panels: ReadonlyMap<string, Panel>) {
    this.#model = model
    this.#pontoonOf = pontoonOf
    this.#panelOf = panels
    for (const panel of panels.values())
      for (const loss of panel.losses) {
        const berth = this.berthOf([loss])
        if (berth === null) continue
        const own = this.#panelsAt.get(berth) ?? new Set()
        this.#panelsAt.set(berth, own.add(panel))
      }
  }

  /** The berth with the largest share of the exposure of some losses. */
  berthOf(losses: readonly JudgedLoss[]): string | null {
    const days = new Map<string, number>()
    for (const { rows } of losses)
      for (const row of rows)
        for (const [berth, own] of this.#model.intervals[row]!.context.exposure.byBerth)
          days.set(berth, (days.get(berth) ?? 0) + own)
    const [first] = [...days].sort(([a, one], [b, other]) => other - one || byName(a, b))
    return first?.[0] ?? null
  }

  pontoonOf(berth: string | null): string | null {
    return berth === null ? null : (this.#pontoonOf.get(berth) ?? null)
  }

  panelOf(boat: string): Panel | null {
    return this.#panelOf.get(boat) ?? null
  }

  /** Panels of the boats that lay at a berth, or at a pontoon. */
  panelsAt(isThere: (berth: string) => boolean): Panel[] {
    return [...new Set([...this.#panelsAt].flatMap(([berth, panels]) => (isThere(berth) ? [...panels] : [])))]
  }
}

/** How much the level around it is believed of a level before its own losses are seen: worth a factor of e, give or take. Convention. */
const PRIOR_INFORMATION = 1

/** The levels above an anode, which it may share its shift with. */
type SharedLevel = Exclude<Scope, 'anode'>

/**
 * Splits the shift of a candidate by the levels that share it: what the boats of the pontoon have in common, what its berth's have
 * beyond that, the boat beyond its berth, the anode beyond its boat. Each level is estimated from those not in the candidate
 * itself, and where they tell little, it is taken to go as the level around it, the pontoon as all others: not at all.
 *
 * @param logRatio log of the rate since over the rate predicted
 * @returns shares from 0 to 1 that add to 1; all of it the candidate's own level where there is no shift
 */
export function shareOut(where: Whereabouts, candidate: Candidate, logRatio: number): Record<Scope, number> {
  const whole = Math.abs(logRatio)
  if (!(whole > 0)) return { anode: 0, boat: 0, berth: 0, pontoon: 0, [candidate.scope]: 1 }
  const others = shiftsOfOthers(where, candidate)
  const own = SCOPES.indexOf(candidate.scope)
  // All of it at the candidate's own level and below, above never more than at the level within.
  const reaching = (level: SharedLevel, within: number) =>
    SCOPES.indexOf(level) <= own ? whole : Math.max(0, Math.min(within, Math.sign(logRatio) * others[level]))
  const boat = reaching('boat', whole)
  const berth = reaching('berth', boat)
  const pontoon = reaching('pontoon', berth)
  return {
    anode: (whole - boat) / whole,
    boat: (boat - berth) / whole,
    berth: (berth - pontoon) / whole,
    pontoon: pontoon / whole,
  }
}

/** By level, the shift at the same time of those who share it with a candidate without being part of it. */
function shiftsOfOthers(where: Whereabouts, candidate: Candidate): Record<SharedLevel, number> {
  const { stretch, losses } = candidate
  const own = new Set(losses)
  const boats = new Set(losses.map(({ boat }) => boat))
  const at = candidate.berth ?? where.berthOf(losses)
  const on = candidate.pontoon ?? where.pontoonOf(at)
  const neighbours = (isThere: (berth: string) => boolean): Others => ({
    panels: where.panelsAt(isThere),
    isMeant: ({ boat }) => !boats.has(boat),
  })
  const sisters: Others = {
    panels: [...boats].flatMap((each) => where.panelOf(each) ?? []),
    isMeant: (loss) => !own.has(loss),
  }
  const pontoon = shiftOf(
    neighbours((each) => each !== at && on !== null && where.pontoonOf(each) === on),
    stretch,
    0,
  )
  const berth = shiftOf(
    neighbours((each) => each === at),
    stretch,
    pontoon,
  )
  return { pontoon, berth, boat: shiftOf(sisters, stretch, berth) }
}

interface Others {
  readonly panels: readonly Panel[]
  readonly isMeant: (loss: JudgedLoss) => boolean
}

/** @param around shift of the level around theirs */
function shiftOf({ panels, isMeant }: Others, stretch: Stretch, around: number): number {
  let response = PRIOR_INFORMATION * around
  let information = PRIOR_INFORMATION
  for (const panel of panels) {
    const kept = panel.losses.flatMap((loss, i) => (isMeant(loss) ? [i] : []))
    const view = PanelView.of(panel, kept)
    if (view === null) continue
    const evidence = view.evidence(kept.map((i) => shareIn(panel.losses[i]!, stretch)))
    response += evidence.response
    information += evidence.information
  }
  return response / information
}

/** Panels of whole boats by name; of a boat with one place, that place's. */
export function panelsOfBoats(places: readonly BoatSearch[], boats: readonly BoatSearch[]): Map<string, Panel> {
  return new Map([...places, ...boats].map(({ group, panel }) => [group.boat, panel]))
}
