import { dueConsumption, dueConsumptionSd, grossMassAt } from '../rates/mass-states.js'
import { noiseScale } from '../rates/noise-memory.js'
import type { RateModel } from '../rates/rate-model.js'
import { normalQuantile } from '../statistics/distributions/normal.js'
import { normalPlusLognormalQuantile } from '../statistics/distributions/normal-plus-lognormal.js'
import { type AnodeOutlook, FORECAST_HORIZON_DAYS } from './anode-outlook.js'
import { type Basis, basisOf } from './basis.js'
import { type CrossingInput, crossingExposure, crossingProbability } from './crossing.js'
import { type HaulOutRisk, type NextHaulOut, nextHaulOut, plannedAfter, recommendedDay } from './haul-out-choice.js'
import { correlationOf, lossUntil, type PacedLoss } from './loss-until.js'
import { dayAtPacedExposure, logRateUntil, pacedExposure } from './paced-exposure.js'
import { type PassedBy, passedBy } from './past-crossing.js'
import { type Wear, wearOf } from './wear.js'

/** 10, 50 and 90 % quantiles. */
export interface Quantiles {
  readonly p10: number
  readonly p50: number
  readonly p90: number
}

/** Day numbers by which an anode is due with that probability; `null` beyond the horizon. */
export interface CrossingDays {
  readonly p05: number | null
  readonly p10: number | null
  readonly p50: number | null
  readonly p90: number | null
  readonly p95: number | null
}

export interface AnodeForecast {
  readonly asOf: number
  /** Gross mass of the cleaned anode on that day [g]. */
  readonly massNow: Quantiles
  /** Consumed fraction, at the middle of that mass [–]. */
  readonly consumedNow: number
  readonly threshold: number
  readonly replace: CrossingDays
  readonly recommendedOn: number | null
  readonly riskBeforeNextHaulOut: number
  readonly nextHaulOut: NextHaulOut
  /** Of each planned lift ahead, in order: the probability of being due by then. */
  readonly haulOutRisks: readonly HaulOutRisk[]
  /** Loss in the water [g/d]. */
  readonly rate: Quantiles
  readonly basis: Basis
  readonly wear: Wear | null
}

/**
 * When an anode will reach its wasting threshold. The threshold's crossing is an exposure u⋆/K from the last weighing; its
 * quantiles are turned into days along the boat's calendar, by default its berth of today on and on.
 *
 * @see docs/model.md, section "Forecast"
 */
export function forecastAnode(model: RateModel, outlook: AnodeOutlook): AnodeForecast {
  const { boat, anode } = outlook
  const { asOf } = model
  const { haulOuts } = boat.history
  const replace = crossingDays(outlook, asOf)
  const next = nextHaulOut(haulOuts, asOf)
  const massNow = grossMassOn(outlook, asOf)
  return {
    asOf,
    massNow,
    consumedNow: 1 - (massNow.p50 - anode.fitted.coreMassG) / anode.fitted.netMassG,
    threshold: anode.history.threshold,
    replace,
    recommendedOn: recommendedDay(haulOuts, asOf, replace.p10),
    riskBeforeNextHaulOut: riskBy(outlook, next.on),
    nextHaulOut: next,
    haulOutRisks: plannedAfter(haulOuts, asOf).map((on) => ({ on, risk: riskBy(outlook, on) })),
    rate: quantilesOf((probability) => rateQuantile(outlook, probability)),
    basis: basisOf(model, outlook.target),
    wear: wearOf(model, anode),
  }
}

/** What of an outlook its mass is worked out from. */
export type PacedMass = PacedLoss & Pick<AnodeOutlook, 'anode'>

/** Gross mass of a cleaned anode on a day from its last weighing on [g]. */
export function grossMassOn(outlook: PacedMass, day: number): Quantiles {
  const loss = lossUntil(outlook, day)
  // The mass is low where the consumption is high.
  return quantilesOf((probability) => grossMassAt(outlook.anode, normalPlusLognormalQuantile(loss, 1 - probability)))
}

/** Probability of being due by a day from its last weighing on [–]. */
export function riskBy(outlook: PacedMass, day: number): number {
  const exposureDays = pacedExposure(outlook, day)
  return crossingProbability(crossingOver(outlook, day, exposureDays), exposureDays)
}

/** What decides whether the threshold is reached by a day. Until a day its exposure is told; for a date, that at which it is likely. */
function crossingInput(outlook: AnodeOutlook, day: number, passed?: PassedBy): CrossingInput {
  const exposureDays = day === Infinity ? outlook.dueExposureDays : pacedExposure(outlook, day)
  return crossingOver(outlook, day, exposureDays, passed)
}

/** What is left until the threshold, and the rate over an exposure that ends on a day. */
function crossingOver(outlook: PacedMass, day: number, exposureDays: number, passed?: PassedBy): CrossingInput {
  const { anode, last } = outlook
  const sd = Math.hypot(Math.sqrt(last.variance), dueConsumptionSd(anode))
  const remaining = { mean: dueConsumption(anode) - last.consumption, sd }
  const logRate = logRateUntil(outlook, day, exposureDays)
  return { remaining, logRate, correlation: correlationOf(outlook.covariance ?? 0, sd, logRate.sd), passedBy: passed }
}

function crossingDays(outlook: AnodeOutlook, asOf: number): CrossingDays {
  const horizon = asOf + FORECAST_HORIZON_DAYS - outlook.last.on
  const passed = passedBefore(outlook)
  const [behind, beyond] = [crossingInput(outlook, asOf, passed), crossingInput(outlook, Infinity, passed)]
  const until = pacedExposure(outlook, asOf)
  const passedByNow = crossingProbability(behind, until)
  const dayAt = (probability: number): number | null => {
    // What lies behind is dated by what was; a date to come cannot fall behind because the berths to come are less well known.
    const liesBehind = probability <= passedByNow
    const exposure = liesBehind ? crossingExposure(behind, probability) : crossingExposure(beyond, probability, until)
    if (exposure === Infinity) return null
    const day = dayAtPacedExposure(outlook, exposure, horizon)
    // The day on which it happens, not the one after: a date is a whole day.
    return day === null ? null : Math.floor(day)
  }
  return { p05: dayAt(0.05), p10: dayAt(0.1), p50: dayAt(0.5), p90: dayAt(0.9), p95: dayAt(0.95) }
}

/** When it was passed, where that may lie between two weighings. */
function passedBefore({ anode, path, logRate, noise }: AnodeOutlook): PassedBy | undefined {
  if (path.length < 2) return undefined
  const noiseOver = (exposureDays: number) => noise * noiseScale(exposureDays)
  return passedBy({
    path,
    due: { mean: dueConsumption(anode), sd: dueConsumptionSd(anode) },
    spent: anode.states.at(-1)!.spent,
    noise: noiseOver,
    logRate: (exposureDays) => ({ mean: logRate.mean, variance: logRate.variance + noiseOver(exposureDays) }),
  })
}

/** Of the rate from today on. */
function rateQuantile({ logRate, ahead, noise }: AnodeOutlook, probability: number): number {
  return ahead.factor * Math.exp(logRate.mean + normalQuantile(probability) * Math.sqrt(ahead.variance + noise))
}

function quantilesOf(at: (probability: number) => number): Quantiles {
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) }
}
