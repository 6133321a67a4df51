/** The phone has no room left. */
export class PhoneFull extends Error {
  constructor(cause: unknown) {
    super('This phone has no room left.', { cause })
    this.name = 'PhoneFull'
  }
}

/** How browsers say that a site has used up what it may store. */
export function isFull(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'QuotaExceededError'
}
