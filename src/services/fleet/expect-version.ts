import { NotFound, Stale } from '../errors.js'

/**
 * Lets a change go on only when the row still is what its author saw.
 *
 * @param what names the row in the error
 * @param stored its version now, held by a lock; undefined when it is gone
 * @param expected the version that the change is based on
 * @throws NotFound, Stale
 */
export function expectVersion(what: string, stored: number | undefined, expected: number): void {
  if (stored === undefined) throw new NotFound(what)
  if (stored !== expected) throw new Stale(what)
}
