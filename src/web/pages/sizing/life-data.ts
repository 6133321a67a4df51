import { DEMAND_SPREAD } from '../../../engine/reference/fitting-demand.js'
import { lifeYears } from '../../../engine/sizing/required-mass.js'
import type { SizingAnswer } from './answer-of.js'

const SAMPLES = 120
/** More dots than this would run into each other. */
const MOST_DOTS = 40

/** Everything the drawing of life against mass holds: kilograms and years. */
export interface LifeData {
  readonly line: readonly {
    readonly massKg: number
    readonly years: number
    readonly low: number
    readonly high: number
  }[]
  /** Whole numbers of anodes; `enough` from the number on that satisfies every criterion. */
  readonly anodes: readonly {
    readonly number: number
    readonly massKg: number
    readonly years: number
    readonly enough: boolean
  }[]
  readonly chosen: { readonly number: number; readonly massKg: number; readonly years: number }
  readonly wantedYears: number
  readonly requiredMassKg: number
  readonly hasBand: boolean
  readonly domain: { readonly massKg: number; readonly years: number }
}

/** Life by net mass at the mean current of the life wanted, with the spread of a current that comes from tables. */
export function lifeData({ sizing, current, years, isEstimated }: Extract<SizingAnswer, { kind: 'sized' }>): LifeData {
  const { number, requiredMassKg, totalMassKg, capacityAhPerKg, utilisation, anode } = sizing
  const lifeOf = (massKg: number) => lifeYears(massKg, current.meanA, capacityAhPerKg, utilisation)
  const domain = {
    massKg: Math.max(1.6 * requiredMassKg, 1.25 * totalMassKg),
    years: Math.max(1.8 * years, 1.25 * sizing.lifeYears),
  }
  const line = Array.from({ length: SAMPLES + 1 }, (_, index) => {
    const massKg = (domain.massKg * index) / SAMPLES
    const life = lifeOf(massKg)
    const high = Math.min(life * DEMAND_SPREAD.factor, domain.years)
    return { massKg, years: life, low: Math.min(life / DEMAND_SPREAD.factor, domain.years), high }
  })
  const fitting = Math.floor(domain.massKg / anode.massKg)
  const numbers = fitting > MOST_DOTS ? [number] : Array.from({ length: fitting }, (_, index) => index + 1)
  return {
    line: line.filter((point) => point.years <= domain.years),
    anodes: numbers
      .map((each) => ({
        number: each,
        massKg: each * anode.massKg,
        years: lifeOf(each * anode.massKg),
        enough: each >= number,
      }))
      .filter((point) => point.years <= domain.years),
    chosen: { number, massKg: totalMassKg, years: sizing.lifeYears },
    wantedYears: years,
    requiredMassKg,
    hasBand: isEstimated,
    domain,
  }
}
