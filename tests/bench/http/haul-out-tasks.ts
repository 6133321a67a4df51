import { sha256 } from '../../../src/services/access/secrets.js'
import { KEY } from './bench-service.js'
import { ask } from './databases.js'

/** A haul-out to log: its boat, what the phone sends, under which key. */
export interface HaulOutTask {
  readonly path: string
  readonly body: string
  readonly key: string
}

interface BoatRow {
  readonly id: string
  readonly anodes: readonly { name: string; massG: number }[]
}

const LIGHTER_G = 3
const NEW_ANODE = { alloy: 'zinc', grossMassG: 1250, coreMassG: 80 }

/** One a boat of the organisation whose key the bench has, on a day: all anodes in place weighed a little lighter than last time, and the first replaced where asked. */
export async function haulOutTasks(databaseUrl: string, hauledOn: string, replaces: boolean): Promise<HaulOutTask[]> {
  const boats = await ask<BoatRow>(
    databaseUrl,
    `select b.id, json_agg(json_build_object('name', a.name, 'massG', w.mass_g) order by a.name) as anodes
     from boats b join anodes a on a.boat_id = b.id and a.removed_on is null
     join lateral (select mass_g from weighings where anode_id = a.id order by weighed_on desc limit 1) w on true
     where b.organisation_id = (select organisation_id from api_keys where secret_sha256 = $2) and not exists (select from haul_outs h where h.boat_id = b.id and h.hauled_on = $1)
     group by b.id order by b.id`,
    [hauledOn, sha256(KEY)],
  )
  return boats.map(({ id, anodes }) => ({
    path: `/v1/boats/${id}/haul-outs`,
    key: `bench ${hauledOn} ${id}`,
    body: JSON.stringify({
      hauledOn,
      planned: true,
      weighings: anodes.map(({ name, massG }, at) => ({
        anode: name,
        massG: massG - LIGHTER_G,
        resolutionG: 1,
        cleaned: true,
        ...(replaces && at === 0 && { replacedBy: NEW_ANODE }),
      })),
    }),
  }))
}
