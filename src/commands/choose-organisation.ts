import { randomUUID } from 'node:crypto'
import type { Config } from '../config.js'
import type { Db, Handles } from '../db/client.js'
import { inOrganisation } from '../db/in-organisation.js'
import { insertApiKey } from '../db/repositories/api-keys.js'
import { insertOrganisation } from '../db/repositories/organisations.js'
import { organisations } from '../db/schema/index.js'
import { keyValues } from '../services/access/api-keys.js'

/**
 * The organisation that a command on this machine works for: the only one, or the one of that name. In an empty
 * database ADMIN_API_KEY makes one, as it does at the service's first start; without an administrator nobody could
 * ever sign in to it.
 *
 * @throws Error saying what to do when it is not clear which is meant
 */
export async function chooseOrganisation(
  { db, across }: Handles,
  config: Config,
  wanted: string | undefined,
): Promise<string> {
  const known = await across.select({ id: organisations.id, name: organisations.name }).from(organisations)
  if (known.length === 0) return makeFirst(db, config, wanted)
  const meant = wanted === undefined ? known : known.filter(({ name }) => name === wanted)
  const [one, ...more] = meant
  if (one && more.length === 0) return one.id
  const names = known.map(({ name }) => `"${name}"`).join(', ')
  throw new Error(`say with --organisation which is meant: there are ${names}`)
}

async function makeFirst(db: Db, config: Config, wanted: string | undefined): Promise<string> {
  const { adminApiKey, organisationName } = config
  if (adminApiKey === undefined) {
    throw new Error('the database is empty: set ADMIN_API_KEY, or start the service and set it up by its link first')
  }
  const organisationId = randomUUID()
  await inOrganisation(db, { organisationId, actor: 'command:import' }, async (tx) => {
    await insertOrganisation(tx, { id: organisationId, name: wanted ?? organisationName })
    const key = keyValues({ name: 'ADMIN_API_KEY', role: 'administrator' }, adminApiKey)
    await insertApiKey(tx, { organisationId, ...key })
  })
  return organisationId
}
