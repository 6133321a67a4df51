import { and, eq, inArray, isNotNull, or, sql } from 'drizzle-orm'
import type { ReminderSettings, ReminderSettingsChange } from '../../contract/notices.js'
import type { Language } from '../../messages/languages.js'
import type { Db } from '../client.js'
import {
  authUsers,
  boatReminders,
  boats,
  noticeAddresses,
  owners,
  personPreferences,
  reminderSettings,
} from '../schema/index.js'

/** Before anybody has chosen anything: the defaults of the table. */
const DEFAULTS: ReminderSettings = {
  enabled: false,
  leadDays: 60,
  quietFrom: 20,
  quietTo: 8,
  timeZone: 'UTC',
  language: 'en',
}

export async function readReminderSettings(db: Db, organisationId: string): Promise<ReminderSettings> {
  const [row] = await db.select().from(reminderSettings).where(eq(reminderSettings.organisationId, organisationId))
  if (row === undefined) return DEFAULTS
  const { organisationId: _, ...settings } = row
  return settings
}

export async function saveReminderSettings(
  tx: Db,
  organisationId: string,
  change: ReminderSettingsChange,
): Promise<void> {
  await tx
    .insert(reminderSettings)
    .values({ ...DEFAULTS, ...change, organisationId })
    .onConflictDoUpdate({
      target: reminderSettings.organisationId,
      set: { ...change, organisationId },
    })
}

/** Organisations that have reminders switched on. */
export async function organisationsThatRemind(db: Db): Promise<string[]> {
  const rows = await db
    .select({ id: reminderSettings.organisationId })
    .from(reminderSettings)
    .where(eq(reminderSettings.enabled, true))
  return rows.map(({ id }) => id)
}

/** A boat with the address of its owner and what they wish. */
export interface RemindedBoat {
  readonly boatId: string
  readonly boat: string
  readonly email: string | null
  readonly snoozedUntil: string | null
  /** As the reader wants it; `null`: as the organisation has it. */
  readonly leadDays: number | null
  /** The boat's reminders, all letters to the address, or its mail server said no. */
  readonly isStopped: boolean
}

/** @param boatId one boat alone; all unless given */
export async function remindedBoats(db: Db, organisationId: string, boatId?: string): Promise<RemindedBoat[]> {
  const address = sql<string | null>`lower(${owners.email})`
  return db
    .select({
      boatId: boats.id,
      boat: boats.name,
      email: address,
      snoozedUntil: boatReminders.snoozedUntil,
      leadDays: noticeAddresses.leadDays,
      isStopped: sql<boolean>`${boatReminders.stoppedAt} is not null or ${noticeAddresses.stoppedAt} is not null
        or ${noticeAddresses.refusedAt} is not null`,
    })
    .from(boats)
    .leftJoin(owners, and(eq(owners.organisationId, boats.organisationId), eq(owners.id, boats.ownerId)))
    .leftJoin(
      boatReminders,
      and(eq(boatReminders.organisationId, boats.organisationId), eq(boatReminders.boatId, boats.id)),
    )
    .leftJoin(
      noticeAddresses,
      and(eq(noticeAddresses.organisationId, boats.organisationId), eq(noticeAddresses.email, address)),
    )
    .where(and(eq(boats.organisationId, organisationId), boatId === undefined ? undefined : eq(boats.id, boatId)))
    .orderBy(sql`${boats.name} collate "C"`)
}

export async function setBoatReminder(
  tx: Db,
  organisationId: string,
  boatId: string,
  set: { readonly snoozedUntil?: string | null; readonly stoppedAt?: string | null },
): Promise<void> {
  await tx
    .insert(boatReminders)
    .values({ organisationId, boatId, ...set })
    .onConflictDoUpdate({ target: [boatReminders.organisationId, boatReminders.boatId], set })
}

/** How early the first letter comes to an address. */
export async function setAddressLead(
  tx: Db,
  organisationId: string,
  email: string,
  leadDays: number | null,
): Promise<void> {
  await tx
    .insert(noticeAddresses)
    .values({ organisationId, email: email.toLowerCase(), leadDays })
    .onConflictDoUpdate({ target: [noticeAddresses.organisationId, noticeAddresses.email], set: { leadDays } })
}

/** Switches letters to an address off or on. */
export async function setAddressStopped(
  tx: Db,
  organisationId: string,
  email: string,
  stoppedAt: string | null,
): Promise<void> {
  await tx
    .insert(noticeAddresses)
    .values({ organisationId, email: email.toLowerCase(), stoppedAt })
    .onConflictDoUpdate({ target: [noticeAddresses.organisationId, noticeAddresses.email], set: { stoppedAt } })
}

export async function noteRefusal(
  tx: Db,
  organisationId: string,
  email: string,
  refused: { readonly refusedAt: string | null; readonly refusal: string | null },
): Promise<void> {
  await tx
    .insert(noticeAddresses)
    .values({ organisationId, email: email.toLowerCase(), ...refused })
    .onConflictDoUpdate({ target: [noticeAddresses.organisationId, noticeAddresses.email], set: refused })
}

/** Addresses that want no letters, or whose mail server wants none, in small letters. */
export async function silentAddresses(db: Db, organisationId: string): Promise<ReadonlySet<string>> {
  const rows = await db
    .select({ email: noticeAddresses.email })
    .from(noticeAddresses)
    .where(
      and(
        eq(noticeAddresses.organisationId, organisationId),
        or(isNotNull(noticeAddresses.stoppedAt), isNotNull(noticeAddresses.refusedAt)),
      ),
    )
  return new Set(rows.map(({ email }) => email))
}

/** How somebody likes to read, as far as they have said. */
export interface ReaderChoices {
  readonly name: string | null
  readonly language: Language | null
  readonly massUnit: 'g' | 'kg' | 'lb' | 'oz' | null
  readonly timeZone: string | null
}

const NOTHING_CHOSEN: ReaderChoices = { name: null, language: null, massUnit: null, timeZone: null }

export async function readerChoices(db: Db, email: string): Promise<ReaderChoices> {
  return (await choicesOfReaders(db, [email]))(email)
}

/** What each of many has chosen, by address in large or small letters. */
export async function choicesOfReaders(db: Db, emails: readonly string[]): Promise<(email: string) => ReaderChoices> {
  const address = sql<string>`lower(${authUsers.email})`
  const rows = await db
    .select({
      address,
      name: authUsers.name,
      language: personPreferences.language,
      massUnit: personPreferences.massUnit,
      timeZone: personPreferences.timeZone,
    })
    .from(authUsers)
    .leftJoin(personPreferences, eq(personPreferences.userId, authUsers.id))
    .where(inArray(address, [...new Set(emails.map((email) => email.toLowerCase()))]))
  const known = new Map(rows.map(({ address, ...choices }) => [address, choices]))
  return (email) => known.get(email.toLowerCase()) ?? NOTHING_CHOSEN
}
