/**
 * A stored record as it will be after a change: null in the change makes a value unknown, what is left out stays.
 *
 * @example merged({ name: 'shaft 1', coreMassG: 80 }, { coreMassG: null }) // { name: 'shaft 1', coreMassG: null }
 */
export function merged<Stored extends object>(
  stored: Stored,
  change: { readonly [Key in keyof Stored]?: Stored[Key] | undefined },
): Stored {
  const given = Object.entries(change).filter(([, value]) => value !== undefined)
  return { ...stored, ...Object.fromEntries(given) }
}
