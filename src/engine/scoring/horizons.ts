/** A span of days from a forecast to the weighing that judges it: at least `from`, less than `to`. */
export interface Horizon {
  readonly group: string
  readonly from: number
  readonly to: number
  /** Of the forecasts within the span, the one issued nearest to this many days before the weighing is judged. */
  readonly middle: number
}

/**
 * Forecasts are issued daily, and those of successive days say nearly the same: each weighing judges one forecast a horizon. Convention:
 * a quarter, half a year, a year; beyond it a year and a half.
 */
export const HORIZONS = [
  { group: 'under 90 days', from: 1, to: 90, middle: 45 },
  { group: '90 to 180 days', from: 90, to: 180, middle: 135 },
  { group: '180 to 365 days', from: 180, to: 365, middle: 272 },
  { group: 'over 365 days', from: 365, to: Infinity, middle: 548 },
] as const satisfies readonly Horizon[]

/** The horizon that holds so many days, at least 1. */
export function horizonOf(days: number): Horizon | undefined {
  return HORIZONS.find(({ from, to }) => days >= from && days < to)
}
