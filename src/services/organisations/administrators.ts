import type { Db } from '../../db/client.js'
import { countAdministratorKeys } from '../../db/repositories/api-keys.js'
import { countAdministrators } from '../../db/repositories/members.js'
import { lockOrganisation } from '../../db/repositories/organisations.js'
import { Conflict } from '../errors.js'

/**
 * Makes a change to members or keys within the caller's transaction, and refuses it when nobody could manage the
 * organisation afterwards. Two such changes at once wait for each other at the organisation's row.
 *
 * @throws Conflict
 */
export async function keepingAnAdministrator<T>(
  tx: Db,
  organisationId: string,
  at: Date,
  change: () => Promise<T>,
): Promise<T> {
  await lockOrganisation(tx, organisationId)
  const result = await change()
  const left = (await countAdministrators(tx, organisationId)) + (await countAdministratorKeys(tx, organisationId, at))
  if (left === 0) throw new Conflict('this is the last administrator; name another one first')
  return result
}
