import { sql } from 'drizzle-orm'
import {
  bigint,
  boolean,
  check,
  date,
  doublePrecision,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  unique,
  uuid,
} from 'drizzle-orm/pg-core'
import { anodes } from './anodes.js'
import { instant, rowKey, rowReference, tenantColumns } from './columns.js'
import { organisations } from './organisations.js'

/** What a fit found for the organisation: components, effects, how many intervals. The newest one not of hindsight is served. */
export const modelFits = pgTable(
  'model_fits',
  {
    ...tenantColumns(),
    asOf: date('as_of').notNull(),
    /** The newest entry of the audit trail that the fit had seen; newer entries make it stale. */
    dataRevision: bigint('data_revision', { mode: 'number' }).notNull(),
    fittedAt: instant('fitted_at').notNull(),
    intervals: integer('intervals').notNull(),
    /** Made after the event, from what was known on its day: only for judging how good such forecasts are. */
    hindsight: boolean('hindsight').notNull().default(false),
    summary: jsonb('summary').notNull(),
  },
  (table) => [
    rowKey(table),
    foreignKey({ columns: [table.organisationId], foreignColumns: [organisations.id] }).onDelete('cascade'),
    index('model_fits_newest').on(table.organisationId, table.fittedAt),
  ],
)

/** Every forecast issued is kept: a later weighing tells how good it was. One an anode and day; the day's last counts. */
export const forecasts = pgTable(
  'forecasts',
  {
    ...tenantColumns(),
    fitId: uuid('fit_id').notNull(),
    anodeId: uuid('anode_id').notNull(),
    asOf: date('as_of').notNull(),
    /** As its fit: nobody has seen it on its day. */
    hindsight: boolean('hindsight').notNull().default(false),
    recommendedOn: date('recommended_on'),
    replaceP50: date('replace_p50'),
    riskBeforeNextHaulOut: doublePrecision('risk_before_next_haul_out'),
    /** The whole answer as it was given. */
    item: jsonb('item').notNull(),
    /** What the answer was computed from: the rate and the filtered masses; draws the curve, and scores it later. */
    outlook: jsonb('outlook').notNull(),
  },
  (table) => [
    rowKey(table),
    rowReference(table, table.fitId, modelFits).onDelete('cascade'),
    rowReference(table, table.anodeId, anodes).onDelete('cascade'),
    unique('forecasts_anode_day').on(table.organisationId, table.anodeId, table.asOf),
    index('forecasts_fit').on(table.organisationId, table.fitId),
    check('forecasts_risk_is_probability', sql`${table.riskBeforeNextHaulOut} between 0 and 1`),
  ],
)
