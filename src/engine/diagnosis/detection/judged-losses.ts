import { netMassAfter } from '../../depletion/consumption-coordinate.js'
import { type MassState, type ObservedAnode, varianceOfLoss } from '../../rates/mass-states.js'
import type { RateModel } from '../../rates/rate-model.js'
import { predictLogRate } from '../../rates/rate-model.js'

/** The loss of one anode over an interval, or over several in a row where the weighings between them tell too little. */
export interface JudgedLoss {
  /** Rows of the model, in order of time. */
  readonly rows: readonly number[]
  /** Boat, and key of the anode. */
  readonly boat: string
  readonly anode: string
  /** Place of the boat among those of the model. */
  readonly boatIndex: number
  /** Day numbers of the weighings at its ends. */
  readonly from: number
  readonly to: number
  /** [g]; a gain, which no anode makes, counts as nothing lost. */
  readonly consumption: number
  readonly fromVariance: number
  readonly toVariance: number
  /** Variance of the error of the loss [g²]: of the two, and of slips. */
  readonly errorVariance: number
  readonly exposureDays: number
  /** All but gone at its end: more would have been lost had there been more. */
  readonly isSpent: boolean
}

/** A gain of this many standard deviations is a slip: one of the two masses is not what was weighed. Convention. */
const SLIP_SDS = 3
/** An error of more than this share of the loss expected does not tell an anode that stands still from one that works. Convention. */
const LARGEST_ERROR_SHARE = 0.5

/**
 * Consumed fractions beyond which the core shows and the current falls: an interval that begins there says nothing of the boat, one
 * that ends there at least as much as was lost.
 *
 * @see reference `utilisation-range`
 */
const STILL_WORKS_UNTIL = 0.8
const SPENT_FROM = 0.9

function consumedFraction({ fitted: { netMassG }, exponent }: ObservedAnode, { consumption }: MassState): number {
  return 1 - netMassAfter(netMassG, netMassG, consumption, exponent) / netMassG
}

/**
 * The losses of a model's anodes as they are judged. Where a weighing tells too little, by eye after a short time, its two
 * intervals become one. An anode that seems to have gained mass beyond its error was misread, before or after: its neighbours in
 * time, which share the one or the other mass, are as uncertain as the gain is large, for nobody knows which.
 */
export function judgedLosses(model: RateModel): JudgedLoss[] {
  const byAnode = new Map<string, number[]>()
  model.intervals.forEach(({ context }, row) => {
    const rows = byAnode.get(context.anode.history.key)
    if (rows === undefined) byAnode.set(context.anode.history.key, [row])
    else rows.push(row)
  })
  const boats = new Map(model.boats.map(({ history }, index) => [history.boat, index]))
  return [...byAnode.values()].flatMap((rows) => {
    const boatIndex = boats.get(model.intervals[rows[0]!]!.context.boat)!
    return unsettledStretches(
      model,
      rows.filter((row) => stillWorks(model, row)),
    ).flatMap((stretch) => doubtNeighbours(joinPoor(model, boatIndex, stretch)))
  })
}

/** Wear that was looked into and is settled is not judged again; what lies before and after it is apart. */
function unsettledStretches(model: RateModel, rows: readonly number[]): number[][] {
  const stretches: number[][] = [[]]
  for (const row of rows) {
    const { explained } = model.intervals[row]!
    if (explained === 'fault-is-over' || explained === 'ordinary') stretches.push([])
    else stretches.at(-1)!.push(row)
  }
  return stretches.filter((stretch) => stretch.length > 0)
}

function stillWorks({ intervals }: RateModel, row: number): boolean {
  const { context, from } = intervals[row]!
  return consumedFraction(context.anode, from) < STILL_WORKS_UNTIL
}

function joinPoor(model: RateModel, boatIndex: number, rows: readonly number[]): JudgedLoss[] {
  const joined: JudgedLoss[] = []
  let gathered: number[] = []
  for (const row of rows) {
    gathered.push(row)
    const loss = lossOf(model, boatIndex, gathered)
    if (!tells(model, loss)) continue
    joined.push(loss)
    gathered = []
  }
  // What is left at the end tells too little by itself: it goes with the one before.
  if (gathered.length > 0) {
    const before = joined.pop()
    joined.push(lossOf(model, boatIndex, [...(before?.rows ?? []), ...gathered]))
  }
  return joined
}

function tells(model: RateModel, { rows, fromVariance, toVariance }: JudgedLoss): boolean {
  const expected = rows.reduce((sum, row) => {
    const { context } = model.intervals[row]!
    return sum + Math.exp(predictLogRate(model, model.design.target(context)).mean) * context.exposure.days
  }, 0)
  return Math.sqrt(fromVariance + toVariance) <= LARGEST_ERROR_SHARE * expected
}

function lossOf(model: RateModel, boatIndex: number, rows: readonly number[]): JudgedLoss {
  const first = model.intervals[rows[0]!]!
  const last = model.intervals[rows.at(-1)!]!
  const consumption = last.to.consumption - first.from.consumption
  const variance = first.from.variance + last.to.variance
  return {
    rows: [...rows],
    boat: first.context.boat,
    anode: first.context.anode.history.key,
    boatIndex,
    from: first.from.on,
    to: last.to.on,
    consumption,
    fromVariance: first.from.variance,
    toVariance: last.to.variance,
    errorVariance: varianceOfLoss(consumption, variance),
    isSpent: consumedFraction(last.context.anode, last.to) >= SPENT_FROM,
    exposureDays: rows.reduce((sum, row) => sum + model.intervals[row]!.context.exposure.days, 0),
  }
}

function doubtNeighbours(losses: readonly JudgedLoss[]): JudgedLoss[] {
  return losses.map((loss, at) => {
    const doubt = [losses[at - 1], losses[at + 1]].reduce((sum, other) => sum + slipOf(other), 0)
    return { ...loss, consumption: Math.max(0, loss.consumption), errorVariance: loss.errorVariance + doubt }
  })
}

/** Square of a gain that is a slip [g²]; 0 for a loss, and for a gain within its error. */
function slipOf(loss: JudgedLoss | undefined): number {
  if (loss === undefined || loss.consumption >= 0) return 0
  const isSlip = loss.consumption < -SLIP_SDS * Math.sqrt(loss.fromVariance + loss.toVariance)
  return isSlip ? loss.consumption ** 2 : 0
}
