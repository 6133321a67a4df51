import type { Db } from '../../db/client.js'
import { type BoatKey, findBoat } from '../../db/repositories/boats.js'
import type { Actor } from '../actor.js'
import { NotFound } from '../errors.js'

/**
 * The boat that somebody means by its name or id.
 *
 * @throws NotFound when there is none, or none that they may see
 */
export async function visibleBoat(db: Db, actor: Actor, boat: string): Promise<BoatKey> {
  return found(await findBoat(db, actor, boat), `boat ${boat}`)
}

/** @throws NotFound when there is nothing there */
export function found<Row>(row: Row | undefined, what: string): Row {
  if (row === undefined) throw new NotFound(what)
  return row
}
