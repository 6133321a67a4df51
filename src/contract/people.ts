import { z } from 'zod'
import { Email } from './access.js'
import { ROLES } from './vocabulary.js'

export const PersonAsked = z
  .strictObject({ email: Email })
  .meta({ id: 'PersonAsked', examples: [{ email: 'ada@example.org' }] })
export type PersonAsked = z.infer<typeof PersonAsked>

const DATA_EXAMPLE = {
  email: 'ada@example.org',
  role: null,
  ownerNames: ['Ada Example'],
  boats: ['Marsh Harrier'],
  hasSignedIn: true,
  calendarFeeds: 1,
  savedViews: 0,
  letters: [
    { kind: 'boat', boat: 'Marsh Harrier', decidedOn: '2031-03-02', state: 'sent', sentAt: '2031-03-02T08:00:00.000Z' },
  ],
  notes: ['Ada Example held the rope'],
  changes: 3,
  stepsOfFindings: 1,
} as const

/** What an organisation has on record of a person: their own copy of it, and what would go. */
export const PersonData = z
  .object({
    email: z.string(),
    role: z.enum(ROLES).nullable().meta({ description: 'As a member; null for who is none' }),
    ownerNames: z.array(z.string()).meta({ description: 'Under which they own boats' }),
    boats: z.array(z.string()).meta({ description: 'Which are theirs' }),
    hasSignedIn: z.boolean().meta({ description: 'Whether there are a sign-in, sessions, passkeys, preferences' }),
    calendarFeeds: z.int(),
    savedViews: z.int(),
    letters: z.array(
      z.object({
        kind: z.string(),
        boat: z.string().nullable(),
        decidedOn: z.iso.date(),
        state: z.string(),
        sentAt: z.iso.datetime().nullable(),
      }),
    ),
    notes: z
      .array(z.string())
      .meta({ description: 'Of haul-outs, weighings and findings in which the address or the full name stands' }),
    changes: z.int().meta({ description: 'Entries of the trail that they made or that name them' }),
    stepsOfFindings: z.int().meta({ description: 'Steps of findings that they took' }),
  })
  .meta({ id: 'PersonData', examples: [DATA_EXAMPLE] })
export type PersonData = z.infer<typeof PersonData>

export const PersonToForget = z
  .strictObject({
    email: Email,
    confirm: Email.meta({ description: 'The same address again: what is forgotten does not come back' }),
  })
  .meta({ id: 'PersonToForget', examples: [{ email: 'ada@example.org', confirm: 'ada@example.org' }] })
export type PersonToForget = z.infer<typeof PersonToForget>

export const PersonForgotten = z
  .object({
    alias: z.string().meta({ description: 'Who stands in the record in their place' }),
    changed: z.array(z.object({ table: z.string(), rows: z.int() })).meta({ description: 'Rows changed or removed' }),
  })
  .meta({
    id: 'PersonForgotten',
    examples: [{ alias: 'forgotten-3f9a1c22', changed: [{ table: 'owners', rows: 1 }] }],
  })
export type PersonForgotten = z.infer<typeof PersonForgotten>
