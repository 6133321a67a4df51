import { z } from 'zod'
import { DayOrNever, Share } from './desk-figures.js'
import { Day, NameOrId, NamePart } from './names.js'
import { Cursor } from './paging.js'
import { ALLOYS, FINDING_DIRECTIONS, POSITION_KINDS, WATERS, YES_NO } from './vocabulary.js'

/** A whole fleet in one answer, for lists that are scrolled and not leafed through. */
export const LARGEST_DESK_PAGE = 2000

/** Which boats, and of these which anodes, a view of the desk is about. */
const filterMembers = {
  text: NamePart.optional().meta({
    description: 'In the name of the boat, its berth, its pontoon or one of its anodes',
  }),
  pontoon: NameOrId.optional().meta({ description: 'Name of the pontoon where the boat lies, or lay last' }),
  berth: NameOrId.optional().meta({ description: 'Name of that berth' }),
  alloy: z.enum(ALLOYS).optional().meta({ description: 'Only anodes of it count, and boats that have one' }),
  position: z.enum(POSITION_KINDS).optional().meta({ description: 'Only anodes there count, and boats that have one' }),
  dueBefore: Day.optional().meta({ description: 'An anode is expected at its threshold on or before this day' }),
  riskAbove: z.coerce
    .number()
    .min(0)
    .max(1)
    .optional()
    .meta({ description: 'Risk before the next haul-out above this' }),
  openFindings: z.enum(YES_NO).optional().meta({ description: 'With findings that are not settled, or without any' }),
}

export const DeskFilter = z.strictObject(filterMembers)
export type DeskFilter = z.infer<typeof DeskFilter>

export const DESK_SORTS = [
  'due',
  '-due',
  'recommended',
  '-recommended',
  'risk',
  '-risk',
  'boat',
  '-boat',
  'berth',
  '-berth',
] as const

const pageMembers = {
  limit: z.coerce.number().int().min(1).max(LARGEST_DESK_PAGE).default(200),
  cursor: Cursor,
  sort: z
    .enum(DESK_SORTS)
    .default('due')
    .meta({ description: 'A minus before the key turns it round. Empty values come last.' }),
}

export const DeskBoatQuery = z.strictObject({ ...filterMembers, ...pageMembers })
export type DeskBoatQuery = z.infer<typeof DeskBoatQuery>

/** The anode of a boat that is due first. */
export const DeskAnode = z
  .object({
    anode: z.string(),
    position: z.string(),
    alloy: z.enum(ALLOYS).nullable(),
    consumedNow: z.number(),
    threshold: Share,
    replace: z.object({ p10: DayOrNever, p50: DayOrNever, p90: DayOrNever }),
    recommendedOn: DayOrNever,
    risk: Share.meta({ description: 'Of reaching the threshold before the next haul-out' }),
  })
  .meta({ id: 'DeskAnode' })
export type DeskAnode = z.infer<typeof DeskAnode>

const OpenFinding = z.object({ id: z.uuid(), direction: z.enum(FINDING_DIRECTIONS) })

export const DeskBoat = z
  .object({
    boat: z.string(),
    berth: z.string().nullable(),
    pontoon: z.string().nullable(),
    water: z.enum(WATERS).nullable(),
    anodes: z.int().meta({ description: 'Anodes in place that match' }),
    first: DeskAnode.nullable().meta({ description: 'Expected at its threshold first; null without a forecast' }),
    riskiest: DeskAnode.nullable().meta({ description: 'With the largest risk before the next haul-out' }),
    recommendedOn: DayOrNever.meta({ description: 'The earliest of its anodes' }),
    nextHaulOut: z.object({ on: z.iso.date(), planned: z.boolean() }).nullable(),
    openFindings: z.array(OpenFinding),
  })
  .meta({ id: 'DeskBoat' })
export type DeskBoat = z.infer<typeof DeskBoat>

export const DeskBoatPage = z
  .object({
    asOf: z.iso.date(),
    total: z.int().meta({ description: 'Boats that match, on all pages' }),
    boats: z.int().meta({ description: 'Boats of the fleet' }),
    items: z.array(DeskBoat),
    nextCursor: z.string().nullable(),
  })
  .meta({ id: 'DeskBoatPage' })
export type DeskBoatPage = z.infer<typeof DeskBoatPage>

export const CalendarQuery = z.strictObject({
  ...filterMembers,
  from: Day.optional().meta({ description: 'The first period is the one with this day; today unless given' }),
  periods: z.coerce
    .number()
    .int()
    .min(1)
    .max(106)
    .default(12)
    .meta({ description: 'How many, at most two years of weeks' }),
  by: z.enum(['month', 'week']).default('month').meta({ description: 'Weeks begin on Monday (ISO 8601)' }),
})
export type CalendarQuery = z.infer<typeof CalendarQuery>

const DueAnode = z.object({
  boat: z.string(),
  anode: z.string(),
  position: z.string(),
  alloy: z.enum(ALLOYS).nullable(),
  on: z.iso.date().meta({ description: 'Middle estimate' }),
  earliest: DayOrNever.meta({ description: '10 % quantile' }),
  latest: DayOrNever.meta({ description: '90 % quantile' }),
})
export type DueAnode = z.infer<typeof DueAnode>

export const DeskCalendar = z
  .object({
    asOf: z.iso.date(),
    overdue: z.array(DueAnode).meta({ description: 'Expected at their threshold before the first period' }),
    periods: z.array(
      z.object({
        from: z.iso.date(),
        to: z.iso.date().meta({ description: 'The first day after it' }),
        due: z.array(DueAnode),
        lifts: z.array(z.object({ boat: z.string(), on: z.iso.date() })).meta({ description: 'Planned haul-outs' }),
      }),
    ),
  })
  .meta({ id: 'DeskCalendar' })
export type DeskCalendar = z.infer<typeof DeskCalendar>

export const DepletionQuery = z.strictObject({ ...filterMembers, ...pageMembers })

const PerMonth = z.array(z.number().nullable())

export const DepletionStrip = z
  .object({
    boat: z.string(),
    berth: z.string().nullable(),
    pontoon: z.string().nullable(),
    anode: z.array(z.string().nullable()).meta({ description: 'The worst anode by month; null where none is known' }),
    consumed: PerMonth.meta({ description: 'Its consumed fraction at the end of the month, middle estimate' }),
    used: PerMonth.meta({ description: 'The same over its threshold: due from 1 on' }),
    lifts: z
      .array(z.object({ on: z.iso.date(), planned: z.boolean() }))
      .meta({ description: 'Haul-outs in these months' }),
  })
  .meta({ id: 'DepletionStrip' })
export type DepletionStrip = z.infer<typeof DepletionStrip>

export const DepletionPage = z
  .object({
    asOf: z.iso.date(),
    months: z.array(z.iso.date()).meta({ description: 'First days of 24 months: twelve behind, then this one and on' }),
    total: z.int(),
    items: z.array(DepletionStrip),
    nextCursor: z.string().nullable(),
  })
  .meta({ id: 'DepletionPage' })
export type DepletionPage = z.infer<typeof DepletionPage>

export const COMPARED_BY = ['berth', 'pontoon', 'alloy', 'position'] as const

export const ComparisonQuery = z.strictObject({ by: z.enum(COMPARED_BY).default('berth') })
export type ComparisonQuery = z.infer<typeof ComparisonQuery>

export const Comparisons = z
  .object({
    asOf: z.iso.date(),
    by: z.enum(COMPARED_BY),
    items: z.array(
      z.object({
        group: z.string(),
        boats: z.int(),
        anodes: z.int(),
        rate: z.object({ low: z.number(), middle: z.number(), high: z.number() }).nullable().meta({
          description: 'Factor of the rate beside the fleet, all else alike, with 90 %; null where not fitted',
        }),
      }),
    ),
  })
  .meta({ id: 'Comparisons' })
export type Comparisons = z.infer<typeof Comparisons>
