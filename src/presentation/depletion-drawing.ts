import type { DepletionView } from '../contract/forecasts.js'
import { addDays, earliest, instantOf, latest } from './calendar.js'

type DepletionAnode = DepletionView['anodes'][number]
type DepletionWeighing = DepletionAnode['weighings'][number]

/** Half length of an error bar in standard deviations: 19 of 20 such weighings lie within. */
const ERROR_BAR_SDS = 1.96
/** Room kept right of the last thing drawn, in days. */
const MARGIN_DAYS = 45

export interface PlotPoint {
  readonly at: Date
  readonly massG: number
  readonly lowG: number
  readonly highG: number
  readonly method: DepletionWeighing['method']
}

/** Everything a depletion plot draws, in the plot's own terms: instants and grams. */
export interface PlotData {
  readonly curve: readonly { readonly at: Date; readonly p10: number; readonly p50: number; readonly p90: number }[]
  readonly weighings: readonly PlotPoint[]
  readonly fitted: { readonly at: Date; readonly massG: number } | null
  readonly before: readonly { readonly anode: string; readonly at: Date; readonly massG: number }[]
  readonly thresholdG: number | null
  readonly coreG: number | null
  readonly today: Date
  /** When abnormal wear began: 8 times in 10 within. */
  readonly onset: { readonly from: Date; readonly middle: Date; readonly to: Date } | null
  readonly due: { readonly from: Date; readonly middle: Date | null; readonly to: Date } | null
  readonly domain: { readonly from: Date; readonly to: Date; readonly highestG: number }
}

/** Days by which it began with that probability. */
export interface Onset {
  readonly p10: string
  readonly p50: string
  readonly p90: string
}

/**
 * Turns an anode's depletion into what is drawn.
 *
 * @param onset of a finding that the anode, or one before it, shares in
 */
export function plotData(
  anode: DepletionAnode,
  before: readonly DepletionAnode[],
  asOf: string,
  onset: Onset | null = null,
): PlotData {
  const last = lastDay(anode, asOf)
  const earlier = before.flatMap(lifeOf)
  const weighings = anode.weighings.map(pointOf)
  const curve = anode.curve.filter(({ on }) => on <= last).map(({ on, ...masses }) => ({ at: dateOf(on), ...masses }))
  const days = [anode.fittedOn, anode.weighings[0]?.on, anode.curve[0]?.on].filter((day) => day != null)
  const first = earlier.reduce((least, { at }) => Math.min(least, at.getTime()), instantOf(earliest(days) ?? asOf))
  const masses = [
    anode.fittedMassG ?? 0,
    ...weighings.map((point) => point.highG),
    ...earlier.map((point) => point.massG),
  ]
  return {
    curve,
    weighings,
    fitted:
      anode.fittedOn === null || anode.fittedMassG === null
        ? null
        : { at: dateOf(anode.fittedOn), massG: anode.fittedMassG },
    before: earlier,
    thresholdG: anode.thresholdMassG,
    coreG: anode.coreMassG,
    today: dateOf(asOf),
    onset: onset && { from: dateOf(onset.p10), middle: dateOf(onset.p50), to: dateOf(onset.p90) },
    due: dueBand(anode, last),
    domain: {
      from: new Date(first),
      to: dateOf(last),
      highestG: Math.max(...masses, ...curve.map((point) => point.p90)),
    },
  }
}

function dueBand({ forecast }: DepletionAnode, last: string): PlotData['due'] {
  const from = forecast?.replace.p05
  if (!forecast || !from || from >= last) return null
  const { p50, p95 } = forecast.replace
  return {
    from: dateOf(from),
    middle: p50 === null || p50 > last ? null : dateOf(p50),
    to: dateOf(p95 === null || p95 > last ? last : p95),
  }
}

/** The drawing ends a little after the latest expected date, or where the service's curve ends. */
function lastDay({ curve, forecast }: DepletionAnode, asOf: string): string {
  const curveEnd = curve.at(-1)?.on ?? addDays(asOf, MARGIN_DAYS)
  const expected = forecast?.replace.p95
  const wanted = expected ? addDays(expected, MARGIN_DAYS) : curveEnd
  return latest([earliest([wanted, curveEnd]) ?? curveEnd, addDays(asOf, MARGIN_DAYS)]) ?? curveEnd
}

function lifeOf(anode: DepletionAnode) {
  const start =
    anode.fittedOn !== null && anode.fittedMassG !== null ? [{ on: anode.fittedOn, massG: anode.fittedMassG }] : []
  return [...start, ...anode.weighings].map(({ on, massG }) => ({ anode: anode.anode, at: dateOf(on), massG }))
}

function pointOf({ on, massG, sdG, method }: DepletionWeighing): PlotPoint {
  const reach = ERROR_BAR_SDS * sdG
  return { at: dateOf(on), massG, lowG: Math.max(0, massG - reach), highG: massG + reach, method }
}

function dateOf(day: string): Date {
  return new Date(instantOf(day))
}
