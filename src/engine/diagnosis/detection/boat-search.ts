import type { CumulativeSumDesign } from '../../statistics/cumulative-sum.js'
import { type Candidate, directionOf } from './candidate.js'
import { driftsOf, tellsOf } from './drift.js'
import type { JudgedLoss } from './judged-losses.js'
import { judgeTogether, type Panel, PanelView } from './panel.js'
import type { RowPredictor } from './predict-rows.js'
import { pValueOf, type ScoredStretch, type Stretch, scan, shareIn, stretchesOf } from './scan.js'
import type { WearGroup } from './wear-groups.js'

/** By kind of stretch: what ordinary scores spread by. */
export interface NullScales {
  readonly whole: number
  readonly part: number
}

/** What the stretches of a family of searches are held against. */
export interface Yardstick {
  readonly scales: NullScales
  /** Of the cumulative sums; `null` where there are none. */
  readonly design: CumulativeSumDesign | null
}

/** A loss counts as part of a stretch from this share on. Convention. */
const MEMBER_SHARE = 0.25

/** The search over one place of a boat, or over a whole boat. */
export class BoatSearch {
  readonly group: WearGroup
  readonly panel: Panel
  readonly #stretches: readonly Stretch[]
  #view: PanelView | null
  #scored: readonly ScoredStretch[] = []

  private constructor(group: WearGroup, panel: Panel) {
    this.group = group
    this.panel = panel
    this.#stretches = stretchesOf(group.losses)
    this.#view = null
    this.leaveOut(new Set())
  }

  /** @returns `null` where the losses cannot be predicted */
  static of(predictor: RowPredictor, group: WearGroup): BoatSearch | null {
    const panel = judgeTogether(predictor, group.losses)
    return panel && new BoatSearch(group, panel)
  }

  get view(): PanelView | null {
    return this.#view
  }

  get scored(): readonly ScoredStretch[] {
    return this.#scored
  }

  /** Looks again without losses that are explained. */
  leaveOut(explained: ReadonlySet<JudgedLoss>): void {
    const kept = this.panel.losses.flatMap((loss, i) => (explained.has(loss) ? [] : [i]))
    this.#view = PanelView.of(this.panel, kept)
    this.#scored =
      this.#view === null ? [] : scan(this.#view, this.#stretches).filter(({ stretch }) => this.#spans(stretch))
  }

  /** The least likely stretch; `null` where nothing is left to search. */
  best({ scales, design }: Yardstick): Candidate | null {
    const view = this.#view
    if (view === null) return null
    const scaleOf = ({ stretch }: ScoredStretch) => (stretch.isWhole ? scales.whole : scales.part)
    let best: { scored: ScoredStretch; p: number } | null = null
    for (const scored of this.#scored) {
      const p = pValueOf(scored, scaleOf(scored))
      if (best === null || p < best.p) best = { scored, p }
    }
    if (best === null) return null
    const { stretch, evidence } = best.scored
    const score = best.scored.score / scaleOf(best.scored)
    return {
      scope: this.group.scope,
      boat: this.group.boat,
      berth: null,
      pontoon: null,
      stretch,
      evidence,
      score,
      isDrift: design !== null && this.#drifts(view, design, scales.part, { stretch, score }),
      p: best.p,
      parts: [{ view, memberShares: view.kept.map(() => 1) }],
      losses: this.#members(stretch),
    }
  }

  #drifts(
    view: PanelView,
    design: CumulativeSumDesign,
    scale: number,
    { stretch, score }: Pick<Candidate, 'stretch' | 'score'>,
  ): boolean {
    const direction = directionOf({ score })
    return driftsOf(view, design, scale).some((drift) => tellsOf(drift, stretch, direction))
  }

  /** A boat's shift must be shared: by two places at least. */
  #spans(stretch: Stretch): boolean {
    if (this.group.scope === 'anode') return true
    const [first, ...others] = this.#members(stretch)
    return others.some((loss) => loss.anode !== first!.anode && overlaps(loss, first!))
  }

  #members(stretch: Stretch): JudgedLoss[] {
    return (this.#view?.kept ?? []).flatMap((i) => {
      const loss = this.panel.losses[i]!
      return shareIn(loss, stretch) >= MEMBER_SHARE ? [loss] : []
    })
  }
}

function overlaps(one: JudgedLoss, other: JudgedLoss): boolean {
  return one.from < other.to && other.from < one.to
}
