import { and, eq, exists, gt, gte, inArray, isNull, lte, notExists, or, sql } from 'drizzle-orm'
import type { KeptOutlook } from '../../engine/forecast/fleet-forecast.js'
import type { ObservationModel } from '../../engine/rates/observation-model.js'
import { HORIZONS, horizonOf } from '../../engine/scoring/horizons.js'
import type { Db } from '../client.js'
import { anodes, forecasts, modelFits, weighings } from '../schema/index.js'

/** A forecast and a later weighing of its anode: what judges it. */
export interface JudgedForecast {
  readonly weighingId: string
  readonly anodeId: string
  readonly weighedOn: string
  readonly fitId: string
  readonly asOf: string
  readonly hindsight: boolean
  readonly outlook: KeptOutlook
}

/** The newest so many weighings judge: enough to tell a share to a percent, and of the fleet as it is. Convention. */
const JUDGING_WEIGHINGS = 2000
/** Stands in for "however long ago" in the database: a hundred years. */
const FARTHEST_DAYS = 36_525

interface JudgedRow extends Omit<JudgedForecast, 'outlook'> {
  readonly horizonDays: number
  readonly outlook: unknown
}

/**
 * Each of the newest weighings on a scale with the forecasts that it judges: for each horizon, of those issued within it, the one nearest
 * to its middle. One that people have seen goes before one made in hindsight.
 */
export async function judgedForecasts(db: Db, organisationId: string): Promise<JudgedForecast[]> {
  const found = await db.execute(sql`
    select w.id as "weighingId", w.anode_id as "anodeId", w.weighed_on::text as "weighedOn", f.fit_id as "fitId",
      f.as_of::text as "asOf", f.hindsight, (w.weighed_on - f.as_of)::int as "horizonDays", f.outlook
    from (
      select id, anode_id, weighed_on from ${weighings}
      where ${weighings.organisationId} = ${organisationId} and method = 'scale'
      order by weighed_on desc, id limit ${JUDGING_WEIGHINGS}
    ) w
    cross join (values ${sql.join(HORIZONS.map(horizonValues), sql`, `)}) as h (nearest, middle, farthest)
    cross join (values (false), (true)) as kind (hindsight)
    cross join lateral (
      select id from (${nearestBefore(organisationId)} union all ${nearestAfter(organisationId)}) as candidate
      order by abs(w.weighed_on - as_of - h.middle), as_of limit 1
    ) as chosen
    join ${forecasts} f on f.organisation_id = ${organisationId} and f.id = chosen.id
    order by f.fit_id, w.id`)
  const rows = (found as unknown as { rows: JudgedRow[] }).rows
  const key = ({ weighingId, horizonDays }: JudgedRow) => `${weighingId} ${horizonOf(horizonDays)?.group}`
  const seen = new Set(rows.filter(({ hindsight }) => !hindsight).map(key))
  return rows
    .filter((row) => !row.hindsight || !seen.has(key(row)))
    .map((row) => ({ ...row, outlook: row.outlook as KeptOutlook }))
}

/** A forecast on the last day of a horizon is as old as its nearest end, one on its first day a day short of the farthest. */
function horizonValues({ from, middle, to }: (typeof HORIZONS)[number]) {
  return sql`(${from}::int, ${middle}::int, ${Math.min(to, FARTHEST_DAYS)}::int)`
}

const ofTheAnode = (organisationId: string) =>
  sql`${forecasts.organisationId} = ${organisationId} and anode_id = w.anode_id and hindsight = kind.hindsight`

function nearestBefore(organisationId: string) {
  return sql`(select id, as_of from ${forecasts} where ${ofTheAnode(organisationId)}
    and as_of <= w.weighed_on - h.middle and as_of > w.weighed_on - h.farthest order by as_of desc limit 1)`
}

function nearestAfter(organisationId: string) {
  return sql`(select id, as_of from ${forecasts} where ${ofTheAnode(organisationId)}
    and as_of > w.weighed_on - h.middle and as_of <= w.weighed_on - h.nearest order by as_of limit 1)`
}

/** How each of some fits read the masses: its forecasts are judged by masses read the same way. */
export async function observationsOfFits(
  db: Db,
  organisationId: string,
  fitIds: readonly string[],
): Promise<Map<string, ObservationModel>> {
  if (fitIds.length === 0) return new Map()
  const rows = await db
    .select({ id: modelFits.id, observation: sql<unknown>`${modelFits.summary} -> 'observation'` })
    .from(modelFits)
    .where(and(eq(modelFits.organisationId, organisationId), inArray(modelFits.id, [...fitIds])))
  return new Map(rows.map(({ id, observation }) => [id, observation as ObservationModel]))
}

/**
 * Whether forecasts as of a past day would be judged by weighings that are known, and are not there: an anode was in place on that day and was
 * weighed later, it has no forecast of that day, and was written down after the day was last looked back to.
 */
export async function lacksHindsight(db: Db, organisationId: string, day: string): Promise<boolean> {
  const laterWeighing = db
    .select({ one: sql`1` })
    .from(weighings)
    .where(
      and(
        eq(weighings.organisationId, anodes.organisationId),
        eq(weighings.anodeId, anodes.id),
        eq(weighings.method, 'scale'),
        gt(weighings.weighedOn, day),
      ),
    )
  const itsForecast = db
    .select({ one: sql`1` })
    .from(forecasts)
    .where(
      and(
        eq(forecasts.organisationId, anodes.organisationId),
        eq(forecasts.anodeId, anodes.id),
        eq(forecasts.asOf, day),
      ),
    )
  const looksBack = db
    .select({ one: sql`1` })
    .from(modelFits)
    .where(
      and(
        eq(modelFits.organisationId, anodes.organisationId),
        eq(modelFits.asOf, day),
        eq(modelFits.hindsight, true),
        gte(modelFits.fittedAt, anodes.createdAt),
      ),
    )
  const rows = await db
    .select({ one: sql`1` })
    .from(anodes)
    .where(
      and(
        eq(anodes.organisationId, organisationId),
        lte(anodes.fittedOn, day),
        or(isNull(anodes.removedOn), gt(anodes.removedOn, day)),
        exists(laterWeighing),
        notExists(itsForecast),
        notExists(looksBack),
      ),
    )
    .limit(1)
  return rows.length > 0
}
