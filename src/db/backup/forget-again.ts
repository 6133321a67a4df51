import { sql } from 'drizzle-orm'
import type { Db } from '../client.js'
import { inOrganisation } from '../in-organisation.js'
import { FORGETTING, forgetPerson } from '../repositories/people.js'
import { rowsOf } from './table-shapes.js'

/** A row of `forgotten_people`, as an archive of the organisation has it. */
export interface ForgottenPerson {
  readonly organisationId: string
  readonly addressSha256: string
  readonly alias: string
}

/**
 * Removes people from what an older backup brought back, each under the alias that they had already.
 *
 * @returns how many of them were there again
 */
export async function forgetAgain(db: Db, people: readonly ForgottenPerson[]): Promise<number> {
  let again = 0
  for (const { organisationId, addressSha256, alias } of people) {
    const acting = { organisationId, actor: 'restore', reason: FORGETTING }
    const found = await inOrganisation(db, acting, async (tx) => {
      const addresses = await addressesOf(tx, organisationId, addressSha256)
      for (const email of addresses) await forgetPerson(tx, { email, alias })
      return addresses.length > 0
    })
    if (found) again++
  }
  return again
}

async function addressesOf(tx: Db, organisationId: string, addressSha256: string): Promise<string[]> {
  const rows = await rowsOf<{ email: string }>(
    tx,
    sql`select distinct lower(known.email) as email from (
        select email from members where organisation_id = ${organisationId}
        union select email from owners where organisation_id = ${organisationId}
        union select email from notices where organisation_id = ${organisationId}
        union select email from notice_addresses where organisation_id = ${organisationId}
        union select substr(actor, 8) from audit_entries where organisation_id = ${organisationId} and actor like 'person:%'
        union select lower(entry.said ->> 'email') from audit_entries e cross join lateral (values (e.before), (e.after)) as entry (said)
          where e.organisation_id = ${organisationId} and e.table_name in ('owners', 'members')
      ) as known
      where encode(sha256(convert_to(lower(known.email), 'UTF8')), 'hex') = ${addressSha256}`,
  )
  return rows.map(({ email }) => email)
}
