import { setImmediate } from 'node:timers/promises'
import ical, {
  escape as escapeText,
  foldLines,
  type ICalEventData,
  ICalEventStatus,
  ICalEventTransparency,
} from 'ical-generator'
import type { Language } from '../../messages/languages.js'

/** An all-day event. Days are 'YYYY-MM-DD', instants ISO 8601. */
export interface CalendarEvent {
  readonly uid: string
  readonly sequence: number
  readonly state: 'confirmed' | 'cancelled'
  readonly summary: string
  readonly description: string
  readonly start: string
  /** Its last day. */
  readonly end: string
  readonly category: string
  readonly url: string
  readonly createdAt: string
  readonly changedAt: string
}

export interface Calendar {
  readonly name: string
  readonly description: string
  readonly language: Language
  /** A colour by its name in CSS 3 (RFC 7986, 5.9), and the same as older programs want it. */
  readonly color: { readonly name: string; readonly hex: string }
  readonly events: readonly CalendarEvent[]
}

/** Forecasts change once a night and after a lift: half a day is often enough. */
const REFRESH_SECONDS = 12 * 60 * 60
const MS_PER_DAY = 86_400_000
/** RFC 5545, 3.1: no control character but the tab stands in a text; line breaks are escaped. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: it is these that are looked for
const CONTROL = /[\u0000-\u0008\u000b-\u000c\u000e-\u001f\u007f]/g

/** Events written at once: others are served in between. */
const EVENTS_AT_ONCE = 50

/**
 * A calendar as text (RFC 5545), with name, colour and refresh interval of RFC 7986. The same calendar always gives the same text:
 * the stamp of an event is when it changed last (RFC 5545, 3.8.7.2, without METHOD), not when it was written out.
 */
export async function renderCalendar({ name, description, language, color, events }: Calendar): Promise<string> {
  const calendar = ical({
    prodId: { company: 'Anode Ledger', product: 'Calendar feed', language },
    // The library escapes the texts of events, but not these.
    name: escapeText(clean(name), false),
    description: escapeText(clean(description), false),
    ttl: REFRESH_SECONDS,
    color: color.hex,
  })
  // The library knows the colour of older programs only.
  const head = calendar.toString().replace('\r\nREFRESH-INTERVAL', `\r\nCOLOR:${color.name}\r\nREFRESH-INTERVAL`)
  const parts = [head.slice(0, head.lastIndexOf(END))]
  for (let start = 0; start < events.length; start += EVENTS_AT_ONCE) {
    parts.push(eventsAsText(events.slice(start, start + EVENTS_AT_ONCE)))
    await setImmediate()
  }
  return `${parts.join('')}${END}\r\n`
}

const END = 'END:VCALENDAR'

function eventsAsText(events: readonly CalendarEvent[]): string {
  const calendar = ical()
  for (const event of events) calendar.createEvent(eventData(event))
  return foldLines(
    calendar
      .events()
      .map((event) => event.toString())
      .join(''),
  )
}

function eventData(event: CalendarEvent): ICalEventData {
  return {
    id: event.uid,
    sequence: event.sequence,
    start: new Date(Date.parse(event.start)),
    // The end of an all-day event is the day after it (RFC 5545, 3.6.1).
    end: new Date(Date.parse(event.end) + MS_PER_DAY),
    allDay: true,
    summary: clean(event.summary),
    description: clean(event.description),
    categories: [{ name: clean(event.category) }],
    url: event.url,
    // Nobody is busy because an anode is due.
    transparency: ICalEventTransparency.TRANSPARENT,
    status: event.state === 'confirmed' ? ICalEventStatus.CONFIRMED : ICalEventStatus.CANCELLED,
    stamp: new Date(event.changedAt),
    created: new Date(event.createdAt),
    lastModified: new Date(event.changedAt),
  }
}

function clean(text: string): string {
  return text.replaceAll(/\r\n?/g, '\n').replaceAll(CONTROL, ' ')
}
