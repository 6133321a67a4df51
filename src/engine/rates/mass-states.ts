import { consumptionCoordinate, netMassAfter } from '../depletion/consumption-coordinate.js'
import {
  type FittedAnode,
  type MassJudgement,
  type NetMassEstimate,
  netMassEstimate,
} from '../depletion/mass-observation.js'
import type { ExposureCalendar } from './exposure-calendar.js'
import type { AnodeHistory } from './fleet-history.js'
import { coreOf, exponentOf, type ObservationModel } from './observation-model.js'

/** What is known of an anode at one point of its life. */
export interface MassState {
  readonly on: number
  /** Exposure since the first state [d]. */
  readonly exposureDays: number
  /** Consumption since the mass m₀, as observed [g]; negative where error makes it heavier. */
  readonly consumption: number
  /** Variance of the error of this state's mass, in the consumption coordinate [g²]. */
  readonly variance: number
  /** Nothing was left: it was used up on some day before, and the consumption is no more than a lower bound. */
  readonly spent: boolean
}

/** An anode with its net masses in order; the first state is its fitting, or its first weighing where the fitting is unknown. */
export interface ObservedAnode {
  readonly history: AnodeHistory
  readonly fitted: FittedAnode
  /** q of its depletion law [–]. */
  readonly exponent: number
  /** Whether m₀ is the mass when fitted, or only the first one known. */
  readonly fromFitting: boolean
  readonly states: readonly MassState[]
}

/**
 * The dated masses of an anode as states in the consumption coordinate. Two states with no exposure between them say the
 * same thing twice and are merged by their precision. `null` where neither a fitting mass nor a scale weighing is known:
 * there is nothing to measure from.
 */
export function observeAnode(
  history: AnodeHistory,
  calendar: ExposureCalendar,
  model: ObservationModel,
  usualGross: UsualMass | null = null,
): ObservedAnode | null {
  const start = firstMass(history, model, usualGross)
  if (start === null) return null
  const { fitted, fromFitting, on: startOn } = start
  const exponent = exponentOf(model, history.shape)
  const states = [stateOf(fitted, exponent, start, { on: startOn, exposureDays: 0, spent: false })]
  for (const { on, judgement } of history.weighings) {
    if (on < startOn || (on === startOn && !fromFitting)) continue
    const estimate = netMassEstimate(fitted, judgement, model.errors)
    if (estimate === null) continue
    const exposureDays = calendar.between(startOn, on).days
    const state = stateOf(fitted, exponent, estimate, { on, exposureDays, spent: isSpent(fitted, judgement, estimate) })
    const last = states[states.length - 1]!
    if (state.exposureDays - last.exposureDays >= LEAST_EXPOSURE_DAYS) states.push(state)
    else states[states.length - 1] = merge(last, state)
  }
  return { history, fitted, exponent, fromFitting, states: untilSpent(states) }
}

/** Consumption by which the anode is due [g]. */
export function dueConsumption({ history, fitted, exponent }: ObservedAnode): number {
  return consumptionCoordinate(fitted.netMassG, fitted.netMassG, (1 - history.threshold) * fitted.netMassG, exponent)
}

/** Standard deviation of that consumption, where core or new mass were not weighed but taken as usual [g]. */
export function dueConsumptionSd({ history, fitted }: ObservedAnode): number {
  // remaining = m − (1 − threshold)·m₀: a core shifts both m and m₀, a new mass m₀ alone.
  return Math.hypot(history.threshold * fitted.coreSdG, (1 - history.threshold) * fitted.newSdG)
}

/** Gross mass at a consumption [g]: never below the core. */
export function grossMassAt(
  { fitted, exponent }: Pick<ObservedAnode, 'fitted' | 'exponent'>,
  consumption: number,
): number {
  return fitted.coreMassG + netMassAfter(fitted.netMassG, fitted.netMassG, consumption, exponent)
}

/** A gain in mass of more than this many standard deviations is no weighing error of the usual size: something was misread. */
export const SLIP_SDS = 3

/**
 * Variance of the error of a loss. No anode gains mass: where it seems to, beyond its error, the error was larger than
 * thought, and the loss counts for as little as that says. It stays an observation all the same.
 *
 * @param consumption observed, negative for a gain [g]
 * @param variance of the weighings' errors [g²]
 */
export function varianceOfLoss(consumption: number, variance: number): number {
  return consumption < 0 ? Math.max(variance, (consumption / SLIP_SDS) ** 2) : variance
}

/** Two looks on one day, or with no day in the water between, have no rate between them. */
const LEAST_EXPOSURE_DAYS = 0.5
/** The coordinate of a curved law has no end at an empty anode: what is left counts as at least this share. */
const LEAST_SHARE_LEFT = 0.02

function stateOf(
  fitted: FittedAnode,
  exponent: number,
  { netMassG, sdG }: NetMassEstimate,
  when: Pick<MassState, 'on' | 'exposureDays' | 'spent'>,
): MassState {
  const { netMassG: newG } = fitted
  const left = exponent === 0 ? netMassG : Math.max(netMassG, LEAST_SHARE_LEFT * newG)
  // Near the end a gram is worth more exposure. Over the error's own width: the slope there has no end.
  const errorSd = exponent === 0 ? sdG : consumptionCoordinate(newG, left + sdG, left, exponent)
  const sd = when.spent ? Math.hypot(errorSd, SPENT_SD_SHARE * newG) : errorSd
  return { ...when, consumption: consumptionCoordinate(newG, newG, left, exponent), variance: sd ** 2 }
}

/** An anode falters before the last gram is gone: how well it is known what a spent one gave, of the mass when new. Assumed. */
const SPENT_SD_SHARE = 0.05

/** Whether a judgement says that nothing is left: by eye a hundred percent, else no more than the share that counts as nothing. */
function isSpent({ netMassG }: FittedAnode, judgement: MassJudgement, estimate: NetMassEstimate): boolean {
  return judgement.method === 'visual'
    ? judgement.consumedFraction >= 1 - LEAST_SHARE_LEFT
    : estimate.netMassG <= LEAST_SHARE_LEFT * netMassG
}

/** An anode is spent once: later looks at it add nothing, and one that found more left takes it back. */
function untilSpent(states: readonly MassState[]): MassState[] {
  const lastAlive = states.findLastIndex(({ spent }) => !spent)
  return states.slice(0, lastAlive + 2).map((state, at) => (at <= lastAlive ? { ...state, spent: false } : state))
}

/** What an anode at a position usually weighs when new, core included. */
export interface UsualMass {
  readonly grossMassG: number
  readonly sdG: number
}

interface FirstMass extends NetMassEstimate {
  readonly on: number
  readonly fitted: FittedAnode
  readonly fromFitting: boolean
}

function firstMass(history: AnodeHistory, model: ObservationModel, usualGross: UsualMass | null): FirstMass | null {
  const firstScale = history.weighings.find((weighing) => weighing.judgement.method === 'scale')
  const gross = history.fittedGrossMassG
  if (gross !== null && (history.fittedOn !== null || firstScale === undefined)) {
    const on = history.fittedOn ?? history.weighings[0]?.on
    if (on === undefined) return null
    const fitted = asFitted(history, gross, model)
    return { on, fitted, fromFitting: true, netMassG: fitted.netMassG, sdG: model.errors.fittedSdShare * gross }
  }
  if (firstScale === undefined || firstScale.judgement.method !== 'scale') return null
  const { on, judgement } = firstScale
  const newGross = gross ?? Math.max(usualGross?.grossMassG ?? 0, judgement.grossMassG)
  const newSdG = gross === null && newGross > judgement.grossMassG ? (usualGross?.sdG ?? 0) : 0
  const fitted = { ...asFitted(history, newGross, model), newSdG }
  const estimate = netMassEstimate(fitted, judgement, model.errors)
  if (estimate === null || !(estimate.netMassG > 0)) return null
  return { on, fitted, fromFitting: false, ...estimate }
}

/** An unknown core is taken as its shape's usual share; how sure that is goes into the threshold. */
function asFitted(history: AnodeHistory, grossMassG: number, model: ObservationModel): FittedAnode {
  const usual = coreOf(model, history.shape)
  const coreMassG = history.coreMassG ?? usual.share * grossMassG
  const coreSdG = history.coreMassG === null ? usual.sd * grossMassG : 0
  const { alloy, shape, dimensions } = history
  return { netMassG: grossMassG - coreMassG, coreMassG, coreSdG, newSdG: 0, alloy, shape, dimensions }
}

function merge(a: MassState, b: MassState): MassState {
  const total = 1 / a.variance + 1 / b.variance
  return {
    on: b.on,
    exposureDays: a.exposureDays,
    consumption: (a.consumption / a.variance + b.consumption / b.variance) / total,
    variance: 1 / total,
    spent: a.spent && b.spent,
  }
}
