/** A potential for a sentence: volts to the hundredth, with a true minus sign. */
export function inVolts(volts: number): string {
  return `${volts < 0 ? '−' : ''}${Math.abs(volts).toFixed(2)} V`
}

/** A small difference of potential, in whole millivolts. */
export function inMillivolts(volts: number): string {
  return `${Math.round(Math.abs(volts) * 1000)} mV`
}

/** Two significant digits without an exponent. */
export function figure(value: number): string {
  return String(Number(value.toPrecision(2)))
}

/** Middle value of a list that is not empty. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}

export function mean(values: readonly number[]): number {
  return values.reduce((total, each) => total + each, 0) / values.length
}
