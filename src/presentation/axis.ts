/** A straight scale from values to a drawing's own lengths. */
export type Scale = (value: number) => number

/** @example scaleOf([0, 10], [100, 0])(5) // 50 */
export function scaleOf([low, high]: readonly [number, number], [start, end]: readonly [number, number]): Scale {
  const span = high - low
  return (value) => (span === 0 ? start : start + ((value - low) / span) * (end - start))
}

/** Steps that people count by. Convention. */
const ROUND_STEPS = [1, 2, 5, 10]

/**
 * Round values from 0 up to a height, about as many as wanted.
 *
 * @example roundTicks(1080, 5) // [0, 200, 400, 600, 800, 1000]
 */
export function roundTicks(high: number, wanted: number): number[] {
  if (!(high > 0)) return [0]
  const rough = high / wanted
  const power = 10 ** Math.floor(Math.log10(rough))
  const steps = ROUND_STEPS.map((each) => each * power)
  // Where the next step would lie above the height there would be no tick but 0: one step finer then.
  const step = steps.find((each) => each >= rough && each <= high) ?? Math.max(...steps.filter((each) => each <= high))
  return Array.from({ length: Math.floor(high / step) + 1 }, (_, index) => index * step)
}

const MONTHS_APART = [1, 2, 3, 6, 12, 24, 60, 120]
const MONTHS_A_YEAR = 12

/** First days of months within a span, counted from January, at most as many as wanted. */
export function monthTicks(from: Date, to: Date, wanted: number): Date[] {
  const first = monthOf(from)
  const last = monthOf(to)
  const apart = MONTHS_APART.find((months) => (last - first) / months <= wanted) ?? MONTHS_APART.at(-1)!
  const ticks: Date[] = []
  for (let month = Math.ceil(first / apart) * apart; month <= last; month += apart) {
    const at = new Date(Date.UTC(Math.floor(month / MONTHS_A_YEAR), month % MONTHS_A_YEAR, 1))
    if (at >= from && at <= to) ticks.push(at)
  }
  return ticks
}

function monthOf(at: Date): number {
  return at.getUTCFullYear() * MONTHS_A_YEAR + at.getUTCMonth()
}
