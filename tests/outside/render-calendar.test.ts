import { execFileSync } from 'node:child_process'
import ICAL from 'ical.js'
import { describe, expect, it } from 'vitest'
import { type CalendarEvent, renderCalendar } from '../../src/outside/calendar/render-calendar.js'
import { PROJECT_ROOT } from '../../src/project-root.js'

const EVENT: CalendarEvent = {
  uid: 'due-1@anode-ledger',
  sequence: 3,
  state: 'confirmed',
  summary: 'Wren: replace anode, shaft',
  description: 'One line\nand another',
  start: '2031-03-30',
  end: '2031-03-30',
  category: 'Anode due',
  url: 'https://anodes.example.org/boats/Wren',
  createdAt: '2031-02-01T06:00:00.000Z',
  changedAt: '2031-02-02T06:00:00.000Z',
}
const rendered = (event: Partial<CalendarEvent>, name = 'Merrowby: lifts') =>
  renderCalendar({
    name,
    description: 'About it',
    language: 'en',
    color: { name: 'steelblue', hex: '#4682B4' },
    events: [{ ...EVENT, ...event }],
  })
// RFC 7986, 5.1 and 5.9: the library has the properties of RFC 5545 alone and would leave these as they are written.
Object.assign(ICAL.design.icalendar.property, { name: { defaultType: 'text' }, color: { defaultType: 'text' } })
/** Read by another library: npm ical.js 2.2.1. */
const parsed = (text: string) => {
  const calendar = new ICAL.Component(ICAL.parse(text))
  const event = new ICAL.Event(calendar.getFirstSubcomponent('vevent')!)
  return { calendar, event }
}

describe('a calendar', () => {
  it('has name, colour and refresh interval of RFC 7986, and how older programs have them', async () => {
    const { calendar } = parsed(await rendered({}))
    expect(calendar.getFirstPropertyValue('version')).toBe('2.0')
    expect(calendar.getFirstPropertyValue('name')).toBe('Merrowby: lifts')
    expect(calendar.getFirstPropertyValue('x-wr-calname')).toBe('Merrowby: lifts')
    expect(calendar.getFirstPropertyValue('color')).toBe('steelblue')
    expect(String(calendar.getFirstPropertyValue('refresh-interval'))).toBe('PT12H')
    expect(calendar.getFirstProperty('refresh-interval')!.type).toBe('duration')
    expect(calendar.getFirstPropertyValue('method')).toBeNull()
  })

  it('has events with all that the standard asks for', async () => {
    const { event } = parsed(await rendered({}))
    expect(event.uid).toBe('due-1@anode-ledger')
    expect(event.sequence).toBe(3)
    expect(event.summary).toBe('Wren: replace anode, shaft')
    expect(event.description).toBe('One line\nand another')
    expect(event.component.getFirstPropertyValue('status')).toBe('CONFIRMED')
    expect(event.component.getFirstPropertyValue('transp')).toBe('TRANSPARENT')
    expect(String(event.component.getFirstPropertyValue('dtstamp'))).toBe('2031-02-02T06:00:00Z')
    expect(String(event.component.getFirstPropertyValue('last-modified'))).toBe('2031-02-02T06:00:00Z')
    expect(event.component.getFirstPropertyValue('url')).toBe('https://anodes.example.org/boats/Wren')
    const cancelled = parsed(await rendered({ state: 'cancelled' })).event
    expect(cancelled.component.getFirstPropertyValue('status')).toBe('CANCELLED')
  })

  it('gives the same text for the same events', async () => {
    expect(await rendered({})).toBe(await rendered({}))
  })

  it.each([
    ['a comma; a semicolon: a colon', 'a comma; a semicolon: a colon'],
    ['back\\slash and \\n as two letters', 'back\\slash and \\n as two letters'],
    ['“quoted” "quoted"', '“quoted” "quoted"'],
    ['two\nlines', 'two\nlines'],
    ['carriage\r\nreturn\rtoo', 'carriage\nreturn\ntoo'],
    ['x\r\nATTACH:https://evil.example/', 'x\nATTACH:https://evil.example/'],
    ['x\nEND:VEVENT\nBEGIN:VALARM', 'x\nEND:VEVENT\nBEGIN:VALARM'],
    ['bell\u0007 and null\u0000', 'bell  and null '],
    ['<b>Möwe</b> & 海鸥 🛥', '<b>Möwe</b> & 海鸥 🛥'],
  ])('keeps %j as text', async (name, expected) => {
    const { calendar, event } = parsed(await rendered({ summary: name, description: name, category: name }, name))
    expect(event.summary).toBe(expected)
    expect(event.description).toBe(expected)
    expect(event.component.getFirstProperty('categories')!.getValues()).toEqual([expected])
    expect(calendar.getFirstPropertyValue('name')).toBe(expected)
    expect(calendar.getAllSubcomponents()).toHaveLength(1)
    expect(event.component.getAllProperties('attach')).toEqual([])
    expect(event.component.getAllSubcomponents()).toEqual([])
  })

  // RFC 5545, 3.1: lines of 75 octets at most, without the break; a fold may not part the octets of a character.
  it.each(['ü'.repeat(200), '海鸥'.repeat(100), '🛥'.repeat(90), `${'a'.repeat(66)}é`, 'e\u0301'.repeat(80)])(
    'folds %s',
    async (long) => {
      const text = await rendered({ summary: long, description: `${long}\n${long}` })
      const lines = text.split('\r\n')
      expect(lines.at(-1)).toBe('')
      expect(Math.max(...lines.map((line) => Buffer.byteLength(line)))).toBeLessThanOrEqual(75)
      expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
      expect(Buffer.from(text).toString('utf8')).toBe(text)
      const { event } = parsed(text)
      expect(event.summary).toBe(long)
      expect(event.description).toBe(`${long}\n${long}`)
    },
  )

  it('ends an event on the day after its last', async () => {
    const { event } = parsed(await rendered({ start: '2031-12-30', end: '2032-01-02' }))
    expect(event.startDate.isDate).toBe(true)
    expect([String(event.startDate), String(event.endDate)]).toEqual(['2031-12-30', '2032-01-03'])
  })
})

describe('the day of an event', () => {
  // Zones east and west of Greenwich, with summer time, at the days on which clocks change, and the first without a 30 December 2011.
  const ZONES = [
    'UTC',
    'Pacific/Apia',
    'Pacific/Kiritimati',
    'Pacific/Pago_Pago',
    'America/St_Johns',
    'America/New_York',
    'Europe/London',
    'Europe/Berlin',
    'Asia/Kathmandu',
    'Australia/Lord_Howe',
  ]
  const DAYS = ['2031-01-01', '2031-03-30', '2031-10-26', '2032-02-29', '2031-11-02', '2031-12-31']
  const script = `
    const { renderCalendar } = await import('./src/outside/calendar/render-calendar.ts')
    const days = ${JSON.stringify(DAYS)}
    const text = await renderCalendar({ name: 'n', description: 'd', language: 'en', color: { name: 'red', hex: '#FF0000' },
      events: days.map((day) => ({ ...${JSON.stringify(EVENT)}, uid: day, start: day, end: day })) })
    process.stdout.write(text)`

  it.each(ZONES)('is the same where the service runs in %s', (zone) => {
    const text = execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
      cwd: PROJECT_ROOT,
      env: { ...process.env, TZ: zone },
      encoding: 'utf8',
    })
    const calendar = new ICAL.Component(ICAL.parse(text))
    const starts = calendar.getAllSubcomponents('vevent').map((event) => new ICAL.Event(event).startDate.toString())
    expect(starts).toEqual(DAYS)
  })
})
