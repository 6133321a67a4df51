import { sayPercent } from '../../wording/amounts.js'
import { t } from './pontoon-words.js'

/** How much faster or slower anodes waste at a berth, as logarithms of the rate over the fleet's. */
export interface Effect {
  readonly mean: number
  readonly low: number
  readonly high: number
}

/** Steps of the scale, from clearly slower to clearly faster. */
export const STEPS = ['slow-3', 'slow-2', 'slow-1', 'even', 'fast-1', 'fast-2', 'fast-3'] as const
export type Step = (typeof STEPS)[number]

/** Bounds of the steps as factors of the rate, alike either way on the logarithmic scale. Convention. */
const BOUNDS = [1.05, 1.15, 1.35] as const

/** Seen by shape as well as by colour. */
export const STEP_SYMBOLS: Readonly<Record<Step, string>> = {
  'slow-3': '▽▽▽',
  'slow-2': '▽▽',
  'slow-1': '▽',
  even: '=',
  'fast-1': '▲',
  'fast-2': '▲▲',
  'fast-3': '▲▲▲',
}

export function stepOf({ mean }: Pick<Effect, 'mean'>): Step {
  const size = BOUNDS.filter((bound) => Math.abs(mean) >= Math.log(bound)).length
  if (size === 0) return 'even'
  return STEPS[3 + (mean > 0 ? size : -size)] ?? 'even'
}

/** Whether the interval leaves open which way the berth differs. */
export function isUnsure({ low, high }: Effect): boolean {
  return low <= 0 && high >= 0
}

/** @example sayEffect({ mean: Math.log(1.35), … }) // '35 % faster' */
export function sayEffect({ mean }: Pick<Effect, 'mean'>): string {
  const share = Math.exp(mean) - 1
  if (Math.abs(share) < 0.005) return t('asUsual')
  return t(share > 0 ? 'faster' : 'slower', { percent: sayPercent(Math.abs(share)) })
}

/** @example sayEffectSpan({ low: Math.log(0.9), high: Math.log(1.2), … }) // '−10 to +20 %' */
export function sayEffectSpan({ low, high }: Effect): string {
  return t('span', { low: signed(low), high: signed(high) })
}

/** What a step holds, for the legend. @example sayStep('fast-1') // '5 to 15 % faster' */
export function sayStep(step: Step): string {
  if (step === 'even') return t('aboutUsual')
  const [way, size] = [step.slice(0, 4), Number(step.slice(5))]
  const percent = (bound: number) => Math.round(Math.abs(way === 'fast' ? bound - 1 : 1 / bound - 1) * 100)
  const [from, to] = [BOUNDS[size - 1] ?? 1, BOUNDS[size]]
  const share =
    to === undefined ? t('over', { percent: percent(from) }) : t('span', { low: percent(from), high: percent(to) })
  return t(way === 'fast' ? 'faster' : 'slower', { percent: share })
}

function signed(log: number): string {
  const percent = Math.round((Math.exp(log) - 1) * 100)
  if (percent === 0) return '0'
  return percent > 0 ? `+${percent}` : `−${-percent}`
}
