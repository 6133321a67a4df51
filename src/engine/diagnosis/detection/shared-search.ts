import type { RateModel } from '../../rates/rate-model.js'
import { normalCdf } from '../../statistics/distributions/normal.js'
import type { BoatSearch, NullScales } from './boat-search.js'
import type { Candidate, CandidatePart } from './candidate.js'
import type { JudgedLoss } from './judged-losses.js'
import type { ShiftEvidence } from './panel.js'
import { type Stretch, shareIn, stretchesBetween } from './scan.js'
import type { StandingShift } from './standing-shifts.js'

/** A berth or a pontoon. */
export interface Place {
  readonly scope: 'berth' | 'pontoon'
  readonly name: string
  readonly berths: ReadonlySet<string>
  readonly pontoon: string | null
}

/** Edges of the stretches over which boats are compared: evenly spread over the weighings. Convention. */
const EDGES = 9
/** Boats that must share a berth's or a pontoon's shift. */
const LEAST_BOATS = 2
const MEMBER_SHARE = 0.25

/** The same of its losses at one place. */
interface BoatAtPlace extends BoatEvidence {
  /** Share of each loss of the panel that came about there. */
  readonly shares: readonly number[]
  /** The same boat wherever it was. */
  readonly anywhere: BoatEvidence
  evidence: readonly ShiftEvidence[]
}

/** What one boat's losses say, stretch by stretch. */
interface BoatEvidence {
  readonly search: BoatSearch
  evidence: readonly ShiftEvidence[]
}

/** The search over berths and pontoons: what their boats share, against all other boats at the same time. */
export class SharedSearch {
  readonly #places: readonly { place: Place; boats: readonly BoatAtPlace[] }[]
  readonly #fleet: readonly BoatEvidence[]
  #total: readonly ShiftEvidence[] = []
  readonly #stretches: readonly Stretch[]
  readonly #standing: ReadonlyMap<string, StandingShift>

  constructor(
    model: RateModel,
    places: readonly Place[],
    searches: readonly BoatSearch[],
    standing: ReadonlyMap<string, StandingShift>,
  ) {
    this.#stretches = stretchesBetween(edgesOf(searches))
    this.#standing = standing
    this.#fleet = searches.map((search) => ({ search, evidence: [] }))
    this.#places = placed(model, places, this.#fleet)
    this.renew(new Set(searches.map(({ group }) => group.boat)))
  }

  /** Looks again at boats of which losses were explained. */
  renew(boats: ReadonlySet<string>): void {
    const isTouched = ({ search }: BoatEvidence) => boats.has(search.group.boat)
    for (const boat of this.#fleet) if (isTouched(boat)) boat.evidence = this.#look(boat.search, () => 1)
    for (const { boats: own } of this.#places)
      for (const boat of own) if (isTouched(boat)) boat.evidence = this.#look(boat.search, (i) => boat.shares[i]!)
    this.#total = this.#stretches.map((_, at) => total(this.#fleet, at))
  }

  /** By scope, the scores of all stretches, for the null scale. */
  scores(scope: Place['scope']): { whole: number[]; part: number[] } {
    const whole: number[] = []
    const part: number[] = []
    for (const { place, boats } of this.#places) {
      if (place.scope !== scope) continue
      const standing = this.#standing.get(keyOf(place))
      if (standing) whole.push(standing.score)
      this.#stretches.forEach((stretch, at) => {
        const shift = this.#shift(boats, at)
        if (shift !== null && stretch.isSingle) part.push(shift.response / Math.sqrt(shift.information))
      })
    }
    return { whole, part }
  }

  /** The least likely stretch of each place. */
  best(scales: Readonly<Record<Place['scope'], NullScales>>): Candidate[] {
    return this.#places.flatMap(({ place, boats }) => {
      const found = [
        this.#bestStretch(place, boats, scales[place.scope].part),
        this.#standingShift(place, boats, scales[place.scope].whole),
      ]
      const best = found.reduce(
        (least, each) => (each !== null && (least === null || each.p < least.p) ? each : least),
        null,
      )
      return best === null ? [] : [best]
    })
  }

  #look({ view }: BoatSearch, shareOf: (loss: number) => number): ShiftEvidence[] {
    return this.#stretches.map((stretch) => {
      if (view === null) return { response: 0, information: 0 }
      return view.evidence(view.kept.map((i) => shareOf(i) * shareIn(view.panel.losses[i]!, stretch)))
    })
  }

  /** The shift of some boats over a stretch, beyond that of all others. */
  #shift(boats: readonly BoatAtPlace[], at: number): ShiftEvidence | null {
    const own = total(boats, at)
    const known = boats.filter(({ evidence }) => evidence[at]!.information > 0)
    const all = this.#total[at]!
    const here = total(
      known.map(({ anywhere }) => anywhere),
      at,
    )
    const others = { response: all.response - here.response, information: all.information - here.information }
    if (known.length < LEAST_BOATS || !(others.information > 1e-9)) return null
    const variance = 1 / own.information + 1 / others.information
    const shift = own.response / own.information - others.response / others.information
    return { response: shift / variance, information: 1 / variance }
  }

  #bestStretch(place: Place, boats: readonly BoatAtPlace[], scale: number): Candidate | null {
    let best: { stretch: Stretch; shift: ShiftEvidence; p: number } | null = null
    this.#stretches.forEach((stretch, at) => {
      const shift = stretch.isWhole ? null : this.#shift(boats, at)
      if (shift === null) return
      const p = Math.min(
        1,
        (2 * normalCdf(-Math.abs(shift.response) / Math.sqrt(shift.information) / scale)) / stretch.weight,
      )
      if (best === null || p < best.p) best = { stretch, shift, p }
    })
    if (best === null) return null
    const { stretch, shift, p } = best as { stretch: Stretch; shift: ShiftEvidence; p: number }
    const score = shift.response / Math.sqrt(shift.information) / scale
    return candidateAt(place, boats, { stretch, evidence: shift, score, p })
  }

  #standingShift(place: Place, boats: readonly BoatAtPlace[], scale: number): Candidate | null {
    const standing = this.#standing.get(keyOf(place))
    const stretch = this.#stretches.find(({ isWhole }) => isWhole)
    if (standing === undefined || stretch === undefined || boats.length < LEAST_BOATS) return null
    const p = Math.min(1, (2 * normalCdf(-Math.abs(standing.score) / scale)) / stretch.weight)
    return candidateAt(place, boats, { stretch, evidence: standing.evidence, score: standing.score / scale, p })
  }
}

type Found = Pick<Candidate, 'stretch' | 'evidence' | 'score' | 'p'>

export const keyOf = ({ scope, name }: Pick<Place, 'scope' | 'name'>) => `${scope} ${name}`

/** What it is made of is put together when asked for: most candidates are never taken. */
function candidateAt({ scope, name, pontoon }: Place, boats: readonly BoatAtPlace[], found: Found): Candidate {
  const berth = scope === 'berth' ? name : null
  return {
    ...found,
    isDrift: false,
    scope,
    boat: null,
    berth,
    pontoon,
    get parts() {
      return boats.flatMap(partAt)
    },
    get losses() {
      return boats.flatMap((boat) => lossesAt(boat, found.stretch))
    },
  }
}

function partAt({ search: { view }, shares }: BoatAtPlace): CandidatePart[] {
  return view === null ? [] : [{ view, memberShares: view.kept.map((i) => shares[i]!) }]
}

function lossesAt({ search: { view }, shares }: BoatAtPlace, stretch: Stretch): JudgedLoss[] {
  return (view?.kept ?? []).flatMap((i) => {
    const loss = view!.panel.losses[i]!
    return shares[i]! * shareIn(loss, stretch) >= MEMBER_SHARE ? [loss] : []
  })
}

function total(boats: readonly BoatEvidence[], at: number): ShiftEvidence {
  let response = 0
  let information = 0
  for (const { evidence } of boats) {
    response += evidence[at]!.response
    information += evidence[at]!.information
  }
  return { response, information }
}

function edgesOf(searches: readonly BoatSearch[]): number[] {
  const days = searches.flatMap(({ panel }) => panel.losses.flatMap(({ from, to }) => [from, to])).sort((a, b) => a - b)
  if (days.length === 0) return []
  const picked = Array.from({ length: EDGES }, (_, k) => days[Math.round((k * (days.length - 1)) / (EDGES - 1))]!)
  return [...new Set(picked)]
}

function placed(model: RateModel, places: readonly Place[], fleet: readonly BoatEvidence[]) {
  const ofBerth = new Map<string, Map<BoatEvidence, number[]>>()
  for (const boat of fleet) {
    boat.search.panel.losses.forEach((loss, i) => {
      for (const [berth, share] of berthShares(model, loss)) {
        const boats = ofBerth.get(berth) ?? new Map<BoatEvidence, number[]>()
        ofBerth.set(berth, boats)
        const shares = boats.get(boat) ?? boat.search.panel.losses.map(() => 0)
        boats.set(boat, shares)
        shares[i]! += share
      }
    })
  }
  return places.flatMap((place) => {
    const boats = new Map<BoatEvidence, number[]>()
    for (const berth of place.berths) {
      for (const [boat, shares] of ofBerth.get(berth) ?? []) {
        const sum = boats.get(boat)
        boats.set(boat, sum === undefined ? [...shares] : sum.map((share, i) => share + shares[i]!))
      }
    }
    const known = [...boats].filter(([, shares]) => shares.some((share) => share >= MEMBER_SHARE))
    if (known.length < LEAST_BOATS) return []
    const own = known.map(
      ([anywhere, shares]): BoatAtPlace => ({ search: anywhere.search, anywhere, shares, evidence: [] }),
    )
    return [{ place, boats: own }]
  })
}

/** Shares of a loss by the berths where it came about; days elsewhere are in none. */
function berthShares(model: RateModel, { rows, exposureDays }: JudgedLoss): Map<string, number> {
  const shares = new Map<string, number>()
  for (const row of rows)
    for (const [berth, days] of model.intervals[row]!.context.exposure.byBerth)
      shares.set(berth, (shares.get(berth) ?? 0) + days / exposureDays)
  return shares
}
