import type { ProblemMembers } from './problem.js'

/** What a rule of the database means to whoever broke it. A clash with other rows is 409, an impossible value 422. */
interface Sentence {
  readonly status: 409 | 422
  readonly detail: string
  readonly pointer?: string
  /** By it a program knows the clash, and says it in its reader's language. */
  readonly code?: string
}

const clash = (detail: string, code?: string): Sentence => ({ status: 409, detail, ...(code && { code }) })
const impossible = (pointer: string, detail: string): Sentence => ({ status: 422, pointer, detail })

/** Each named rule of src/db/schema and migrations/ that a request can run into. */
export const CONSTRAINT_SENTENCES: Readonly<Record<string, Sentence>> = {
  // What is there already.
  boats_name: clash('a boat of this name exists already', 'boat-name-taken'),
  berths_name: clash('a berth of this name exists already', 'berth-name-taken'),
  pontoons_name: clash('a pontoon of this name exists already', 'pontoon-name-taken'),
  owners_person: clash('an owner of this name and address exists already', 'owner-known'),
  fittings_name: clash('this boat has a fitting of this name already', 'fitting-name-taken'),
  positions_place: clash('this boat has this position already'),
  anodes_name: clash('this boat has, or had, an anode of this name', 'anode-name-taken'),
  stays_start: clash('this boat has a stay that begins on this day already', 'stay-day-taken'),
  haul_outs_day: clash('this boat has a haul-out on this day already', 'haul-out-day-taken'),
  weighings_anode_day: clash(
    'this anode was weighed on this day already; correct that weighing instead',
    'weighed-that-day',
  ),
  potentials_reading: clash('this potential was logged already: same boat, fitting and instant', 'potential-logged'),
  continuity_reading: clash(
    'this continuity reading was logged already: same boat, ends and instant',
    'continuity-logged',
  ),
  members_email: clash('this address is a member already', 'member-known'),
  api_keys_secret: clash('this key is in use already'),
  api_keys_previous_secret: clash('this key is in use already'),
  drawn_berths_place: clash('the drawing was changed meanwhile; read it again'),
  prices_thing: clash('the price list was changed meanwhile; read it again', 'prices-changed'),
  saved_views_name: clash('you have a view of this name already', 'view-name-taken'),
  saved_views_default: clash('another view was made the first one meanwhile; send the request again'),
  calendar_feeds_token: clash('this calendar link is in use already'),
  push_subscriptions_endpoint_unique: clash('this browser was subscribed meanwhile; send the request again'),
  forecasts_anode_day: clash('a forecast for this anode and day exists already'),

  // What cannot be at the same time.
  stays_no_overlap: clash(
    'the stay overlaps another stay of this boat; a boat is at one berth at a time',
    'stays-overlap',
  ),
  anodes_one_at_a_position: clash(
    'another anode sits at this position in that time; remove it first',
    'position-taken',
  ),

  // What never is.
  boats_name_not_empty: impossible('#/name', 'name must not be empty'),
  boats_threshold_is_a_fraction: impossible('#/wastingThreshold', 'wastingThreshold must be above 0 and below 1'),
  boats_launched_year_plausible: impossible('#/launchedYear', 'launchedYear must be between 1800 and 2200'),
  berths_name_not_empty: impossible('#/name', 'name must not be empty'),
  berths_salinity_in_range: impossible('#/salinityPsu', 'salinityPsu must be between 0 and 42'),
  berths_latitude_in_range: impossible('#/latitude', 'latitude must be between -90 and 90'),
  berths_longitude_in_range: impossible('#/longitude', 'longitude must be between -180 and 180'),
  pontoons_name_not_empty: impossible('#/pontoon', 'pontoon must not be empty'),
  drawn_pontoons_on_the_plan: impossible('#/pontoons', 'shoreXM and shoreYM must be between -10000 and 10000'),
  drawn_pontoons_heading: impossible('#/pontoons', 'headingDegrees must be at least 0 and below 360'),
  drawn_pontoons_berths_positive: impossible('#/pontoons', 'berthLengthM and berthWidthM must be above 0'),
  drawn_berths_place_from_one: impossible('#/pontoons', 'places are counted from 1'),
  owners_name_or_email: impossible('#/ownerName', 'an owner needs a name or an address'),
  stays_end_after_start: impossible('#/toOn', 'toOn must not lie before fromOn'),
  stays_shore_power_hours: impossible('#/shorePowerHoursPerDay', 'shorePowerHoursPerDay must be between 0 and 24'),
  fittings_area_not_negative: impossible('#/areaCm2', 'areaCm2 must be at least 0'),
  positions_threshold_is_a_fraction: impossible('#/wastingThreshold', 'wastingThreshold must be above 0 and below 1'),
  positions_slot_from_one: impossible('#/slot', 'slot must be at least 1'),
  anodes_name_not_empty: impossible('#/name', 'name must not be empty'),
  anodes_removed_after_fitted: impossible('#/removedOn', 'removedOn must not lie before fittedOn'),
  anodes_mass_positive: impossible('#/grossMassG', 'grossMassG must be above 0'),
  anodes_core_not_negative: impossible('#/coreMassG', 'coreMassG must be at least 0'),
  anodes_core_below_gross: impossible('#/coreMassG', 'coreMassG must be below grossMassG'),
  anodes_dimensions_positive: impossible('#/lengthMm', 'lengthMm, widthMm and heightMm must be above 0'),
  haul_outs_relaunched_after: impossible('#/relaunchedOn', 'relaunchedOn must not lie before the haul-out'),
  weighings_mass_positive: impossible('#/massG', 'massG must be above 0'),
  weighings_resolution_positive: impossible('#/resolutionG', 'resolutionG must be above 0'),
  weighings_submerged_below_dry: impossible('#/submergedMassG', 'submergedMassG must be at least 0 and below massG'),
  weighings_wasted_is_percent: impossible('#/wastedPercent', 'wastedPercent must be between 0 and 100'),
  weighings_says_something: impossible(
    '#/method',
    'a weighing by scale needs massG, by eye wastedPercent, by calipers a dimension',
  ),
  weighings_dimensions_positive: impossible('#/lengthMm', 'lengthMm, widthMm and heightMm must be above 0'),
  weighings_within_anode_life: impossible(
    '#/weighedOn',
    'weighedOn must lie between the day the anode was fitted and the day it was removed',
  ),
  weighings_not_below_core: impossible('#/massG', 'massG is below the core mass of the anode'),
  weighings_corrected_with_reason: impossible('#/reason', 'a weighing is corrected with a reason: say why'),
  potentials_volts_plausible: impossible('#/volts', 'volts must be between -3 and 3'),
  continuity_ohms_not_negative: impossible('#/ohms', 'ohms must be at least 0'),
  photos_of_one_thing: impossible('', 'a photo belongs to one weighing or to one haul-out'),
  webhooks_name_not_empty: impossible('#/name', 'name must not be empty'),
  price_lists_currency_code: impossible('#/currency', 'currency must be three capital letters (ISO 4217)'),
  prices_not_negative: impossible('#/prices', 'a price must not be negative'),
  prices_mass_positive: impossible('#/prices', 'a mass must be above 0 g'),
  prices_lift_is_no_part: impossible('#/prices', 'a lift has no alloy, shape or mass'),
  saved_views_name_not_empty: impossible('#/name', 'name must not be empty'),
  organisations_name_not_empty: impossible('#/name', 'name must not be empty'),
  organisations_threshold_is_a_fraction: impossible(
    '#/wastingThreshold',
    'wastingThreshold must be above 0 and below 1',
  ),
  members_email_lower_case: impossible('#/email', 'email must be in lower case'),
  api_keys_previous_secret_whole: impossible(
    '#/',
    'the secret before the present one has a prefix and an end, or there is none',
  ),
  api_keys_not_for_owners: impossible('#/role', 'an API key cannot have the role owner'),
  idempotency_keys_key_length: impossible('', 'Idempotency-Key must have 1 to 255 characters'),
  organisations_false_discovery_rate_in_range: impossible(
    '#/falseDiscoveryRate',
    'falseDiscoveryRate must be between 0.0001 and 0.5',
  ),
  berths_place_on_plan: impossible('#/planX', 'planX and planY go together, each between -1000000 and 1000000'),
  finding_events_append_only: clash('the history of a finding is only ever added to'),
  audit_trail_append_only: clash('the audit trail is only ever added to'),
}

/** Rules without a name in the table above, by their kind (PostgreSQL, appendix A: error codes). */
const BY_CODE: Readonly<Record<string, { status: number; detail: string }>> = {
  '23505': { status: 409, detail: 'this exists already' },
  '23P01': { status: 409, detail: 'this overlaps something that is there' },
  '23503': { status: 409, detail: 'something else refers to this, or this refers to something that is not there' },
  '23514': { status: 422, detail: 'a value lies outside what is possible' },
  '23502': { status: 422, detail: 'a value that is needed is missing' },
  '22P02': { status: 400, detail: 'a value is not in the form that is asked for' },
  '22P05': { status: 400, detail: 'a text holds a character that cannot be stored' },
  '22021': { status: 400, detail: 'a text holds a character that cannot be stored (NUL)' },
  '22003': { status: 400, detail: 'a number is too large' },
  '22007': { status: 400, detail: 'a date is not in the form that is asked for' },
  '22008': { status: 400, detail: 'a date lies outside what can be stored' },
  '22001': { status: 400, detail: 'a text is too long' },
  '40001': { status: 503, detail: 'two changes met; send the request again' },
  '40P01': { status: 503, detail: 'two changes met; send the request again' },
}

/** What the database's driver says of an error, alike on both drivers. */
interface DriverError {
  readonly code?: unknown
  readonly constraint?: unknown
}

/** The refusal that stands behind an error of the database, in plain words; nothing of its own text leaves. */
export function databaseRefusal(error: Error): { status: number; members: ProblemMembers } | undefined {
  for (const candidate of [error.cause, error]) {
    const { code, constraint } = (candidate ?? {}) as DriverError
    const sentence = typeof constraint === 'string' ? CONSTRAINT_SENTENCES[constraint] : undefined
    if (sentence) return { status: sentence.status, members: membersOf(sentence) }
    const general = typeof code === 'string' ? BY_CODE[code] : undefined
    if (general) return { status: general.status, members: { detail: general.detail } }
  }
  return undefined
}

function membersOf({ detail, pointer, code }: Sentence): ProblemMembers {
  return pointer === undefined
    ? { detail, ...(code && { code }) }
    : { detail, errors: [{ pointer: pointer === '' ? '#' : pointer, detail }] }
}
