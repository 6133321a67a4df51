/** Where a boat's draft is kept in this browser. */
export const keyOf = (boat: string) => `haul-out draft: ${boat}`

/** Whether a form of a boat is open in this browser. */
export function isBegun(store: Storage, boat: string): boolean {
  return store.getItem(keyOf(boat)) !== null
}
