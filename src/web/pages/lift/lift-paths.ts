/** Steps of the lift's own paths: a boat of such a name is reached by its id. */
const TAKEN = ['outbox']

export function liftPath(boat: { readonly id?: string; readonly name: string }, ...rest: readonly string[]): string {
  const step = TAKEN.includes(boat.name) && boat.id !== undefined ? boat.id : boat.name
  return ['/lift', ...[step, ...rest].map(encodeURIComponent)].join('/')
}

/**
 * The boat that a label names: labels hold the address of its page at the lift, of this service or of one that it had before.
 *
 * @returns null for any other text
 * @example boatOfLabel('https://anodes.example.org/lift/Marsh%20Harrier') // 'Marsh Harrier'
 */
export function boatOfLabel(text: string): string | null {
  const step = /^https?:\/\/[^/]+\/lift\/([^/?#]+)\/?(?:[?#].*)?$/.exec(text.trim())?.[1]
  if (step === undefined || TAKEN.includes(step)) return null
  try {
    return decodeURIComponent(step)
  } catch {
    return null
  }
}
