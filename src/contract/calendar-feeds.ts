import { z } from 'zod'
import { LANGUAGES } from '../messages/languages.js'

/** owner: due dates and lifts of one's own boats; yard: the lifts of all boats; fleet: due dates and lifts of all. */
export const FEED_SCOPES = ['owner', 'yard', 'fleet'] as const
export type FeedScope = (typeof FEED_SCOPES)[number]

export const NewCalendarFeed = z
  .strictObject({ scope: z.enum(FEED_SCOPES), language: z.enum(LANGUAGES) })
  .meta({ id: 'NewCalendarFeed', examples: [{ scope: 'owner', language: 'de' }] })
export type NewCalendarFeed = z.infer<typeof NewCalendarFeed>

const FEED_EXAMPLE = {
  id: '5b0d4a60-0f0c-4a8e-9a5c-0d7f5d3a2c11',
  scope: 'owner' as const,
  language: 'de' as const,
  createdAt: '2031-04-18T09:30:00.000Z',
  linkMadeAt: '2031-04-18T09:30:00.000Z',
  lastReadAt: null,
  version: 1,
}

export const CalendarFeedView = z
  .object({
    id: z.uuid(),
    scope: z.enum(FEED_SCOPES),
    language: z.enum(LANGUAGES),
    createdAt: z.iso.datetime(),
    linkMadeAt: z.iso.datetime().meta({ description: 'Renewing makes another link, and the one before ends' }),
    lastReadAt: z.iso.datetime().nullable().meta({ description: 'By a calendar program, to the hour' }),
    version: z.int(),
  })
  .meta({ id: 'CalendarFeed', examples: [FEED_EXAMPLE] })
export type CalendarFeedView = z.infer<typeof CalendarFeedView>

export const CalendarFeedWithLink = CalendarFeedView.extend({
  link: z.string().meta({ description: 'The private link: shown this once (null in a replay), only its hash is kept' }),
}).meta({
  id: 'CalendarFeedWithLink',
  examples: [{ ...FEED_EXAMPLE, link: 'https://anodes.example.org/v1/calendars/h0w-a-token-looks.ics' }],
})
export type CalendarFeedWithLink = z.infer<typeof CalendarFeedWithLink>

export const CalendarFeeds = z
  .object({ items: z.array(CalendarFeedView) })
  .meta({ id: 'CalendarFeeds', examples: [{ items: [FEED_EXAMPLE] }] })
export const CalendarFeedParams = z.object({ feed: z.uuid() })

const LONGEST_FILE = 100

/** The last step of a private link. */
export const CalendarFile = z.object({ file: z.string().max(LONGEST_FILE) })
