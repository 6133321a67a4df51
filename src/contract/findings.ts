import { z } from 'zod'
import { SCOPES } from '../engine/diagnosis/anomaly.js'
import { CAUSES } from '../engine/diagnosis/causes.js'
import { Day, NameOrId } from './names.js'
import { Cursor } from './paging.js'
import { saidFields } from './said.js'
import { CONFIRMABLE_CAUSES, FINDING_DIRECTIONS, FINDING_EVENTS, FINDING_STATES } from './vocabulary.js'
import { Note } from './weighings.js'

const Probability = z.number().min(0).max(1)
const SomeDay = z.iso.date()

const WeighedEvidence = z.object({
  observation: z.string().meta({ description: 'Key of the kind of observation' }),
  what: z.string().meta({ description: 'The observation in a sentence, with its figures' }),
  ...saidFields,
  weight: z.number().meta({
    description: 'Log of how much likelier it is under this cause than under the others: below 0 speaks against',
  }),
})

const RankedCause = z.object({
  cause: z.enum(CAUSES),
  probability: Probability,
  evidence: z.array(WeighedEvidence).meta({ description: 'What speaks for and against; empty where others are named' }),
})

const CheckOutcome = z.object({
  outcome: z.string().meta({ description: 'Key, to be sent when the check is recorded' }),
  text: z.string(),
  probability: Probability.meta({ description: 'As things stand' }),
  would: z
    .array(z.object({ cause: z.enum(CAUSES), probability: Probability }))
    .meta({ description: 'What it would make of the causes, the likeliest first' }),
})

const NextCheck = z.object({
  check: z.string().meta({ description: 'Key, to be sent when the check is recorded' }),
  title: z.string(),
  how: z.array(z.string()),
  expectedGain: z.number().meta({ description: 'Expected drop in the entropy of the causes, nat' }),
  outcomes: z.array(CheckOutcome),
  cautions: z.array(z.string()),
})

const Onset = z
  .object({ p10: SomeDay, p50: SomeDay, p90: SomeDay })
  .meta({ description: 'It began by then with that probability' })

const LogRatio = z.object({ mean: z.number(), sd: z.number() })

const RecordedCheckView = z.object({
  check: z.string(),
  title: z.string(),
  outcome: z.string(),
  text: z.string().meta({ description: 'The outcome in a sentence' }),
  on: SomeDay,
  note: z.string().nullable(),
  confirmedCause: z.enum(CONFIRMABLE_CAUSES).nullable(),
})

const Resolution = z.object({
  on: SomeDay.meta({ description: 'Since when the fault is gone' }),
  text: z.string().meta({ description: 'What was done' }),
  cause: z.enum(CONFIRMABLE_CAUSES),
})

const Shares = z
  .object({ anode: Probability, boat: Probability, berth: Probability, pontoon: Probability })
  .meta({ description: 'What part of the surprise is shared at which level: adds to 1' })

/** Abnormal wear with what may lie behind it. One fault is one finding, however many anodes it shows in. */
export const FindingItem = z
  .object({
    id: z.uuid(),
    scope: z.enum(SCOPES).meta({ description: 'How far it reaches' }),
    boat: z.string().nullable().meta({ description: "Null for a berth's or a pontoon's: see `anodes`" }),
    anode: z.string().nullable().meta({ description: 'Null for the whole boat, berth or pontoon' }),
    position: z.string().nullable().meta({ description: 'Where that anode sits' }),
    berth: z.string().nullable().meta({
      description: "Where the boat lies, or lay last; of a pontoon's the berth with most of its anodes",
    }),
    pontoon: z.string().nullable(),
    anodes: z
      .array(z.object({ boat: z.string(), anode: z.string(), position: z.string() }))
      .meta({ description: 'All that share in it; an owner is told of their own' }),
    direction: z.enum(FINDING_DIRECTIONS),
    noticedBy: z.enum(['interval', 'drift', 'reading']),
    since: SomeDay.meta({ description: 'Middle estimate of when it began; where it was so all along, the first day' }),
    onset: Onset.nullable().meta({ description: 'Null where it was so from the first day on' }),
    surprise: z.number().meta({
      description: 'Standard normal score under the prediction made without it; above 0 is faster, 0 for a reading',
    }),
    adjustedP: Probability.nullable().meta({ description: 'Two-sided p-value after Benjamini and Hochberg' }),
    logRatio: LogRatio.nullable().meta({
      description: 'Log of the rate since then over the rate predicted without it',
    }),
    shares: Shares,
    causes: z.array(RankedCause).meta({ description: 'By falling probability; they add to 1' }),
    nextCheck: NextCheck.nullable(),
    questions: z.array(z.string()).meta({ description: 'Readings that contradict themselves or each other' }),
    asked: z
      .array(z.object({ boat: z.string().nullable(), ...saidFields }))
      .meta({ description: 'The same questions as sentences of a code, with the boat that each is about' }),
    safety: z.array(z.string()).meta({ description: 'Cautions that must be shown with it' }),
    state: z.enum(FINDING_STATES),
    confirmedCause: z
      .enum(CONFIRMABLE_CAUSES)
      .nullable()
      .meta({ description: 'By a check or by what was done; null while it is open what lies behind' }),
    notSeenSince: SomeDay.nullable().meta({
      description: 'Day from which the wear shows it no longer; null while it does',
    }),
    openedOn: SomeDay,
    reopened: z.int().meta({ description: 'How often it came back after it was resolved' }),
    asOf: SomeDay.meta({ description: 'Day of the fit that saw it last' }),
    version: z.int(),
  })
  .meta({ id: 'Finding' })
export type FindingItem = z.infer<typeof FindingItem>

export const FindingEventView = z
  .object({
    at: z.iso.datetime(),
    by: z
      .string()
      .nullable()
      .meta({
        description: 'Who; `refit` for what the wear itself has shown; null where an owner asks',
        examples: ['person:ada@example.org', 'refit'],
      }),
    kind: z.enum(FINDING_EVENTS),
    from: z.enum(FINDING_STATES).nullable(),
    to: z.enum(FINDING_STATES),
    note: z.string().nullable(),
    check: RecordedCheckView.nullable(),
    resolution: Resolution.nullable(),
  })
  .meta({ id: 'FindingEvent' })
export type FindingEventView = z.infer<typeof FindingEventView>

export const FindingDetail = FindingItem.extend({
  checks: z.array(RecordedCheckView).meta({ description: 'By date' }),
  resolution: Resolution.nullable(),
  events: z.array(FindingEventView).meta({ description: 'Its life, oldest first' }),
}).meta({ id: 'FindingDetail' })
export type FindingDetail = z.infer<typeof FindingDetail>

/** A whole fleet's, for programs that take them all at once. */
const LARGEST_FINDING_PAGE = 10_000

export const FINDING_SORTS = ['surprise', '-surprise', 'since', '-since', 'boat', '-boat'] as const

export const FindingQuery = z.strictObject({
  asOf: Day.optional().meta({
    description: 'Only what was known by then counts: worked out anew, each as open. Today unless given: as kept',
  }),
  limit: z.coerce.number().int().min(1).max(LARGEST_FINDING_PAGE).default(100),
  cursor: Cursor,
  sort: z.enum(FINDING_SORTS).default('-surprise').meta({ description: '`surprise` by its size, whatever its sign' }),
  state: z
    .enum([...FINDING_STATES, 'unsettled'])
    .optional()
    .meta({ description: 'One state; `unsettled`: open, acknowledged or checked. All but closed unless given' }),
  boat: NameOrId.optional().meta({ description: 'Name of a boat that shares in it' }),
  berth: NameOrId.optional().meta({ description: 'Name of its berth' }),
  pontoon: NameOrId.optional().meta({ description: 'Name of its pontoon' }),
  cause: z.enum(CAUSES).optional().meta({ description: 'The likeliest' }),
  direction: z.enum(FINDING_DIRECTIONS).optional(),
  evidence: z.enum(['whole', 'none']).default('whole').meta({
    description:
      'With `none` causes come without evidence and the next check without its steps and outcomes: for lists',
  }),
})
export type FindingQuery = z.infer<typeof FindingQuery>

export const FindingPage = z
  .object({ items: z.array(FindingItem), nextCursor: z.string().nullable() })
  .meta({ id: 'FindingPage' })
export type FindingPage = z.infer<typeof FindingPage>

export const FindingParams = z.object({ finding: z.uuid() })

export const Acknowledgement = z
  .strictObject({ note: Note.optional() })
  .meta({ id: 'Acknowledgement', examples: [{ note: 'owner told; we look at it at the next lift' }] })
export type Acknowledgement = z.infer<typeof Acknowledgement>

export const NewCheck = z
  .strictObject({
    check: z.string().min(1).max(100).meta({ description: 'Key of a check, such as that of `nextCheck`' }),
    outcome: z.string().min(1).max(100).meta({ description: 'Key of one of its outcomes' }),
    on: Day,
    note: Note.optional(),
    confirms: z
      .enum(CONFIRMABLE_CAUSES)
      .optional()
      .meta({ description: 'The cause, where this settles it: fleet effects then leave the abnormal wear out' }),
  })
  .meta({
    id: 'NewCheck',
    description: 'What was found when a check was made: evidence from then on.',
    examples: [{ check: 'bond-resistance', outcome: 'high', on: '2031-04-18', note: '14 ohm from anode to bond' }],
  })
export type NewCheck = z.infer<typeof NewCheck>

export const NewResolution = z
  .strictObject({
    text: Note.meta({ description: 'What was done', examples: ['new bonding strap, 0.2 ohm now'] }),
    on: Day.meta({ description: 'Since when the fault is gone' }),
    cause: z.enum(CONFIRMABLE_CAUSES).meta({
      description: 'What it was; `other` for a cause that is not in the list, `none` where nothing was wrong',
    }),
  })
  .meta({
    id: 'NewResolution',
    examples: [{ text: 'new bonding strap, 0.2 ohm now', on: '2031-04-18', cause: 'no-electrical-contact' }],
  })
export type NewResolution = z.infer<typeof NewResolution>

export const Reopening = z
  .strictObject({ note: Note.meta({ description: 'Why' }) })
  .meta({ id: 'Reopening', examples: [{ note: 'the strap has come loose again' }] })
export type Reopening = z.infer<typeof Reopening>

/** A check that can be recorded, whether or not it is the one proposed next. */
export const CheckView = z
  .object({
    check: z.string(),
    title: z.string(),
    how: z.array(z.string()),
    cautions: z.array(z.string()),
    outcomes: z.array(z.object({ outcome: z.string(), text: z.string() })),
  })
  .meta({ id: 'Check' })
export type CheckView = z.infer<typeof CheckView>

export const CheckList = z.object({ items: z.array(CheckView) })
