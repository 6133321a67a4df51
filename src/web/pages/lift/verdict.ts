import type { AnodeView } from '../../../contract/anodes.js'
import type { ForecastItem } from '../../../contract/forecasts.js'
import { gramsOf } from '../../../contract/grams.js'
import type { MassUnit } from '../../../contract/vocabulary.js'
import { type MassJudgement, netMassEstimate } from '../../../engine/depletion/mass-observation.js'
import { WEIGHING_ERROR } from '../../../engine/depletion/weighing-error.js'
import { parseNumber } from '../../wording/typed-number.js'
import type { AnodeDraft } from '../haul-out/draft.js'

/** Standard normal deviate below which nine of ten lie: the spread between p10, p50 and p90 in standard deviations. */
const Z_90 = 1.2815515655446004
/** Two-sided one in twenty: outside it a reading is worth a second look. Convention. */
const Z_NORMAL = 1.959963984540054
/** One-sided one in a thousand: outside it chance is no explanation. Convention. */
const Z_FAR = 3.090232306167813

/** What is expected of an anode's gross mass today [g]: the middle, and how far nineteen of twenty such readings lie from it. */
export interface Expected {
  readonly massG: number
  readonly belowG: number
  readonly aboveG: number
}

export type Judgement = 'normal' | 'below' | 'far-below' | 'above' | 'far-above'

export interface Verdict {
  readonly expected: Expected
  /** Gross mass of the cleaned anode that the reading comes to [g]. */
  readonly foundG: number
  readonly judgement: Judgement
}

/**
 * Holds a reading against the forecast, as soon as it is typed. The forecast's uncertainty and the reading's own error add:
 *
 *     σ² = σ_forecast² + σ_reading²,  σ_forecast = (p90 − p50)/1.2816 above, (p50 − p10)/1.2816 below
 *
 * Normal within ±1.96 σ; beyond 3.09 σ far below or far above.
 *
 * @returns null where nothing readable was typed, or nothing is expected
 * @see WEIGHING_ERROR for the error of each way of judging
 */
export function verdictOf(anode: AnodeView, forecast: ForecastItem | undefined, typed: AnodeDraft, unit: MassUnit) {
  const reading = forecast && readingOf(anode, forecast, typed, unit)
  return reading ? judged(forecast, reading.foundG, reading.sdG) : null
}

/**
 * What a reading on a cleaned anode is expected to be, before there is one.
 *
 * @param forecast quantiles of the gross mass now [g]
 */
export function expectedOnScale(anode: AnodeView, { massNow }: ForecastItem): Expected {
  const judgement: MassJudgement = { method: 'scale', grossMassG: massNow.p50, resolutionG: null, cleaned: true }
  const estimate = netMassEstimate(fittedAnode(anode, massNow.p50), judgement)
  return expectedWith(massNow, estimate?.sdG ?? 0)
}

function judged({ massNow }: ForecastItem, foundG: number, sdG: number): Verdict {
  const expected = expectedWith(massNow, sdG)
  const isBelow = foundG < massNow.p50
  const reach = (isBelow ? expected.belowG : expected.aboveG) / Z_NORMAL
  const z = Math.abs(foundG - massNow.p50) / reach
  return { expected, foundG, judgement: wordFor(z, isBelow) }
}

function wordFor(z: number, isBelow: boolean): Judgement {
  if (z <= Z_NORMAL) return 'normal'
  if (z <= Z_FAR) return isBelow ? 'below' : 'above'
  return isBelow ? 'far-below' : 'far-above'
}

function expectedWith({ p10, p50, p90 }: ForecastItem['massNow'], sdG: number): Expected {
  const reach = (spread: number) => Z_NORMAL * Math.hypot(spread / Z_90, sdG)
  return { massG: p50, belowG: reach(p50 - p10), aboveG: reach(p90 - p50) }
}

/** A reading as gross mass with its error; null where it says nothing yet. */
function readingOf(anode: AnodeView, forecast: ForecastItem, typed: AnodeDraft, unit: MassUnit) {
  const judgement = judgementOf(typed, unit)
  if (judgement === null) return null
  const fitted = fittedAnode(anode, forecast.massNow.p90)
  const estimate = netMassEstimate(fitted, judgement)
  return estimate && { foundG: estimate.netMassG + fitted.coreMassG, sdG: estimate.sdG }
}

/** The reading as the engine takes it; null where nothing readable was typed. */
function judgementOf(typed: AnodeDraft, unit: MassUnit): MassJudgement | null {
  if (typed.conditions.includes('missing')) return { method: 'visual', consumedFraction: 1 }
  if (typed.method === 'scale') {
    const mass = figure(typed.mass)
    const grossMassG = mass === null ? null : gramsOf(mass, typed.unit ?? unit)
    return grossMassG === null ? null : { method: 'scale', grossMassG, resolutionG: null, cleaned: typed.cleaned }
  }
  if (typed.method === 'visual') {
    const wasted = figure(typed.wastedPercent)
    return wasted === null ? null : { method: 'visual', consumedFraction: wasted / 100 }
  }
  const [lengthMm, widthMm, heightMm] = [figure(typed.lengthMm), figure(typed.widthMm), figure(typed.heightMm)]
  if (lengthMm === null && widthMm === null && heightMm === null) return null
  return { method: 'dimensions', dimensions: { lengthMm, widthMm, heightMm } }
}

function figure(text: string): number | null {
  const value = parseNumber(text)
  return value === null || Number.isNaN(value) || value < 0 ? null : value
}

/** Where the mass when new is not known, what is expected now stands for it: shares of it are then shares of what is left. */
function fittedAnode(anode: AnodeView, fallbackG: number) {
  const coreMassG = anode.coreMassG ?? 0
  const { alloy, shape, lengthMm, widthMm, heightMm } = anode
  return {
    netMassG: Math.max((anode.grossMassG ?? fallbackG) - coreMassG, 1),
    coreMassG,
    coreSdG: 0,
    newSdG: WEIGHING_ERROR.fittedSdShare * (anode.grossMassG ?? fallbackG),
    alloy,
    shape,
    dimensions: { lengthMm, widthMm, heightMm },
  }
}
