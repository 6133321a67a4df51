import { z } from 'zod'
import { LANGUAGES } from '../messages/languages.js'
import { Day } from './names.js'
import { Cursor } from './paging.js'
import { TimeZone } from './time-zones.js'

/** One boat's owner, an owner of many boats at once, the Monday letter of a manager, the week's lifts for staff. */
export const NOTICE_KINDS = ['boat', 'summary', 'digest', 'lifts'] as const
export type NoticeKind = (typeof NOTICE_KINDS)[number]

/**
 * `sent`: the mail server took it. `refused`: it will not have this address. `failed`: given up after days of trying. `dropped`: what it was
 * about had gone before it could be sent.
 */
export const NOTICE_STATES = ['waiting', 'sent', 'refused', 'failed', 'dropped'] as const
export type NoticeState = (typeof NOTICE_STATES)[number]

export const NOTICE_REASONS = ['first', 'second', 'moved', 'finding'] as const
export type NoticeReason = (typeof NOTICE_REASONS)[number]

const Hour = z.int().min(0).max(23)
const Lead = z.int().min(15).max(365).meta({ description: 'Days before the recommended date' })

const REMINDER_SETTINGS = {
  enabled: z.boolean().meta({ description: 'Nobody is written to before an administrator switches it on' }),
  leadDays: Lead,
  quietFrom: Hour.meta({ description: 'Hour from which on nobody is written to, local time' }),
  quietTo: Hour.meta({ description: 'Hour at which writing begins again; the same as `quietFrom`: always' }),
  timeZone: TimeZone.meta({ description: 'Of those who have chosen none' }),
  language: z.enum(LANGUAGES).meta({ description: 'Of those who have chosen none' }),
}

const SETTINGS_EXAMPLE = {
  enabled: true,
  leadDays: 60,
  quietFrom: 20,
  quietTo: 8,
  timeZone: 'Europe/Berlin',
  language: 'de',
} as const

export const ReminderSettings = z.object(REMINDER_SETTINGS).meta({
  id: 'ReminderSettings',
  description: 'When owners are written to about their anodes',
  examples: [SETTINGS_EXAMPLE],
})
export type ReminderSettings = z.infer<typeof ReminderSettings>

export const ReminderSettingsChange = z
  .strictObject(REMINDER_SETTINGS)
  .partial()
  .meta({
    id: 'ReminderSettingsChange',
    description: 'What to change; what is left out stays',
    examples: [{ enabled: true }],
  })
export type ReminderSettingsChange = z.infer<typeof ReminderSettingsChange>

export const TrialRequest = z
  .strictObject({
    boat: z.string().optional().meta({ description: 'Its name; the first letter that is coming unless given' }),
  })
  .meta({ id: 'TrialRequest', examples: [{ boat: 'Second Kettle' }] })
export type TrialRequest = z.infer<typeof TrialRequest>

export const TrialOutcome = z
  .object({
    to: z.string(),
    subject: z.string(),
    failure: z.string().nullable().meta({ description: 'What the mail server said when it would not take the letter' }),
  })
  .meta({
    id: 'TrialOutcome',
    description: 'A letter that was sent to whoever asked for it',
    examples: [{ to: 'manager@example.org', subject: 'Second Kettle: anodes due by 4 May 2026', failure: null }],
  })
export type TrialOutcome = z.infer<typeof TrialOutcome>

export const ReturnedOutcome = z
  .object({
    outcome: z.enum(['refused', 'failed', 'delayed', 'stopped', 'none']).meta({
      description:
        '`refused`: nothing more is sent to its address. `failed`: the letter did not arrive, the next is sent. `delayed`: still on its way. `stopped`: a complaint ended its letters. `none`: the mail is about no letter of yours',
    }),
    notice: z.uuid().nullable().meta({ description: 'The letter' }),
  })
  .meta({
    id: 'ReturnedOutcome',
    description: 'What was made of a mail that came back',
    examples: [{ outcome: 'refused', notice: '2f0f0e4e-6c1d-4b61-9a42-1f0a8e7f2b11' }],
  })
export type ReturnedOutcome = z.infer<typeof ReturnedOutcome>

const Why = z.object({
  boat: z.string().meta({ description: 'Name' }),
  anode: z.string().nullable().meta({ description: 'Name; null for a finding' }),
  because: z.enum(NOTICE_REASONS),
  recommendedOn: z.iso.date().nullable(),
  finding: z.uuid().nullable(),
})
export type Why = z.infer<typeof Why>

const WHY_EXAMPLE: Why = {
  boat: 'Second Kettle',
  anode: 'shaft 3',
  because: 'first',
  recommendedOn: '2026-05-04',
  finding: null,
}

export const NoticeItem = z
  .object({
    id: z.uuid(),
    kind: z.enum(NOTICE_KINDS),
    boat: z.string().nullable(),
    to: z.string(),
    on: z.iso.date().meta({ description: 'Day on which it was decided' }),
    why: z.array(Why),
    state: z.enum(NOTICE_STATES),
    attempts: z.int(),
    nextAttemptAt: z.iso.datetime({ offset: true }).nullable(),
    sentAt: z.iso.datetime({ offset: true }).nullable(),
    failure: z.string().nullable().meta({ description: 'What the mail server said last' }),
  })
  .meta({
    id: 'Notice',
    description: 'A letter: to whom, why, and what became of it',
    examples: [
      {
        id: '0f0f7f3e-6d5a-4c1e-9d61-0a5f7c1d2e3f',
        kind: 'boat',
        boat: 'Second Kettle',
        to: 'owner@example.org',
        on: '2026-03-05',
        why: [WHY_EXAMPLE],
        state: 'sent',
        attempts: 1,
        nextAttemptAt: null,
        sentAt: '2026-03-05T07:00:02Z',
        failure: null,
      },
    ],
  })
export type NoticeItem = z.infer<typeof NoticeItem>

export const NoticeQuery = z.strictObject({
  state: z.enum(NOTICE_STATES).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
  cursor: Cursor,
  sort: z.enum(['createdAt', '-createdAt']).default('-createdAt'),
})
export type NoticeQuery = z.infer<typeof NoticeQuery>

export const NoticePage = z
  .object({ items: z.array(NoticeItem), nextCursor: z.string().nullable() })
  .meta({ id: 'NoticePage' })

export const PreviewQuery = z.strictObject({
  days: z.coerce.number().int().min(1).max(366).default(90),
})

export const PreviewedNotice = z
  .object({
    on: z.iso.date(),
    kind: z.enum(['boat', 'summary']),
    to: z.string(),
    boats: z.array(z.string()),
    why: z.array(Why),
  })
  .meta({
    id: 'PreviewedNotice',
    description: 'A letter that would be sent as things stand today',
    examples: [
      { on: '2026-03-05', kind: 'boat', to: 'owner@example.org', boats: ['Second Kettle'], why: [WHY_EXAMPLE] },
    ],
  })
export type PreviewedNotice = z.infer<typeof PreviewedNotice>

export const NoticePreview = z
  .object({
    items: z.array(PreviewedNotice),
    withoutAddress: z.array(z.string()).meta({ description: 'Boats due meanwhile whose owner has no address' }),
  })
  .meta({ id: 'NoticePreview' })
export type NoticePreview = z.infer<typeof NoticePreview>

/** What the page behind a letter's link shows before anything is done. */
export const LetterLinkView = z
  .object({
    organisation: z.string(),
    email: z.string(),
    boat: z.string().nullable().meta({ description: 'Null where the link is about all letters to the address' }),
    boatId: z.uuid().nullable(),
    isStopped: z.boolean(),
    snoozedUntil: z.iso.date().nullable(),
    leadDays: z.int().meta({ description: 'How many days before the date the first letter comes' }),
    anodes: z.array(
      z.object({ id: z.uuid(), anode: z.string(), position: z.string(), recommendedOn: z.iso.date().nullable() }),
    ),
  })
  .meta({ id: 'LetterLink' })
export type LetterLinkView = z.infer<typeof LetterLinkView>

export const LetterAction = z
  .discriminatedUnion('action', [
    z.strictObject({ action: z.literal('snooze'), until: Day }),
    z.strictObject({ action: z.literal('stop') }),
    z.strictObject({ action: z.literal('resume') }),
    z.strictObject({ action: z.literal('lead'), leadDays: Lead }),
    z.strictObject({
      action: z.literal('done'),
      on: Day.meta({ description: 'When the anodes were replaced' }),
      anodes: z
        .array(
          z.strictObject({
            id: z.uuid(),
            massG: z.number().positive().max(1e6).nullable().meta({ description: 'What the old one weighed still, g' }),
          }),
        )
        .min(1)
        .max(100),
    }),
  ])
  .meta({ id: 'LetterAction', examples: [{ action: 'snooze', until: '2026-04-01' }] })
export type LetterAction = z.infer<typeof LetterAction>
