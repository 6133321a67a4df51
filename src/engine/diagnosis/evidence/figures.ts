/** Middle value of a list that is not empty. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}

/** Middle value of an ascending list without some of its values; one at least must be left. */
export function medianWithout(ascending: readonly number[], leftOut: readonly number[]): number {
  const out = [...leftOut].sort((a, b) => a - b)
  // A value left out that is no larger than what stands at a place moves the place on by one.
  const at = (rank: number) =>
    ascending[out.reduce((place, each) => (each <= ascending[place]! ? place + 1 : place), rank)]!
  const count = ascending.length - out.length
  const middle = count >> 1
  return count % 2 === 1 ? at(middle) : (at(middle - 1) + at(middle)) / 2
}

export function mean(values: readonly number[]): number {
  return values.reduce((total, each) => total + each, 0) / values.length
}
