/** A list's elements by key, keys in the order of their first element. */
export function groupBy<T, K>(list: readonly T[], keyOf: (each: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>()
  for (const each of list) {
    const group = groups.get(keyOf(each))
    if (group === undefined) groups.set(keyOf(each), [each])
    else group.push(each)
  }
  return groups
}
