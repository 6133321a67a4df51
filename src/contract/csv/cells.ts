import { z } from 'zod'
import type { GalvanicMetal } from '../../engine/reference/galvanic-series.js'
import { isMetal, unknownMetal } from '../metals.js'
import { Day, Instant, Name } from '../names.js'

/** How one kind of cell is read and written. What is written reads back as the same value. */
export interface Cell<T> {
  /** For the person who fills in the file: what belongs in the cell. */
  readonly expects: string
  readonly read: z.ZodType<T, string>
  write(value: T): string
}

const LONGEST_TEXT = 200
const SHOWN = 40

/** What was found, short enough for a sentence. */
function shown(text: string): string {
  return JSON.stringify(text.length > SHOWN ? `${text.slice(0, SHOWN)}…` : text)
}

/** A schema from one function: it gives the value, or a sentence through `refuse`. */
function reading<T>(read: (text: string, refuse: (detail: string) => never) => T): z.ZodType<T, string> {
  return z.string().transform((text, context) => {
    try {
      return read(text.trim(), (detail) => {
        throw new Refused(detail)
      })
    } catch (error) {
      if (!(error instanceof Refused)) throw error
      context.issues.push({ code: 'custom', message: error.message, input: text })
      return z.NEVER
    }
  })
}

class Refused extends Error {}

/** The same rules as in a request's body, told in the words of a CSV file. */
function asInRequests<T>(schema: z.ZodType<T, string>, adapt: (text: string) => string = (text) => text) {
  return reading((text, refuse) => {
    const result = schema.safeParse(adapt(text))
    return result.success ? result.data : refuse(result.error.issues[0]?.message ?? 'cannot be read')
  })
}

/** The name of a boat, a berth, a fitting, an anode. */
export const nameCell: Cell<string> = { expects: 'a name', read: asInRequests(Name), write: (name) => name }

/** Free text; it may hold line breaks. */
export const textCell: Cell<string> = {
  expects: `text of at most ${LONGEST_TEXT} characters`,
  read: reading((text, refuse) => {
    if (text.length > LONGEST_TEXT) refuse(`has ${text.length} characters, at most ${LONGEST_TEXT} are kept`)
    // PostgreSQL's text cannot hold the character U+0000.
    if (text.includes('\0')) refuse('has a NUL character')
    return text
  }),
  write: (text) => text,
}

const EMAIL_SHAPE = /^[^\s@]+@[^\s@]+$/

export const emailCell: Cell<string> = {
  expects: 'an e-mail address',
  read: reading((text, refuse) => (EMAIL_SHAPE.test(text) ? text : refuse(`${shown(text)} is not an e-mail address`))),
  write: (text) => text,
}

/** One of a closed list of words. */
export function wordCell<const Word extends string>(words: readonly Word[]): Cell<Word> {
  const known = new Map<string, Word>(words.map((word) => [word, word]))
  return {
    expects: words.join(', '),
    read: reading((text, refuse) => known.get(text.toLowerCase()) ?? refuse(notOneOf(text, words))),
    write: (word) => word,
  }
}

function notOneOf(text: string, words: readonly string[]): string {
  return `${shown(text)} is not one of ${words.join(', ')}`
}

/** A key of the galvanic series; whoever wrote another word gets those that come close. */
export const metalCell: Cell<GalvanicMetal> = {
  expects: 'a key of the galvanic series',
  read: reading((text, refuse) => {
    const key = text.toLowerCase()
    return isMetal(key) ? key : refuse(unknownMetal(text))
  }),
  write: (metal) => metal,
}

/** Codes from a closed list, `;` between them. */
export function codesCell<const Word extends string>(words: readonly Word[]): Cell<Word[]> {
  const known = new Map<string, Word>(words.map((word) => [word, word]))
  return {
    expects: `any of ${words.join(', ')}, with ; between them`,
    read: reading((text, refuse) => {
      const given = text.split(';').map((code) => code.trim().toLowerCase())
      const codes = given.filter(Boolean).map((code) => known.get(code) ?? refuse(notOneOf(code, words)))
      return [...new Set(codes)]
    }),
    write: (codes) => codes.join(';'),
  }
}

export const yesNoCell: Cell<boolean> = {
  expects: 'yes, no',
  read: reading((text, refuse) => {
    const word = text.toLowerCase()
    return word === 'yes' ? true : word === 'no' ? false : refuse(notOneOf(text, ['yes', 'no']))
  }),
  write: (value) => (value ? 'yes' : 'no'),
}

const NUMBER_SHAPE = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i

interface NumberRange {
  readonly above?: number
  readonly from?: number
  readonly to?: number
  readonly whole?: boolean
}

/** A decimal number in a range. */
export function numberCell(range: NumberRange = {}): Cell<number> {
  const wanted = wording(range)
  return {
    expects: wanted,
    read: reading((text, refuse) => {
      if (!NUMBER_SHAPE.test(text)) return refuse(notANumber(text))
      // Adding 0 turns the negative zero into the one that is written.
      const value = Number(text) + 0
      return isWithin(value, range) ? value : refuse(`${shown(text)} is not ${wanted}`)
    }),
    write: String,
  }
}

function notANumber(text: string): string {
  return /^[+-]?[\d.,' ]+$/.test(text) && text.includes(',')
    ? `${shown(text)} has a comma: write the decimals after a point, and no separators between thousands`
    : `${shown(text)} is not a number such as 1234.5`
}

function isWithin(value: number, { above, from, to, whole }: NumberRange): boolean {
  if (!Number.isFinite(value) || (whole && !Number.isSafeInteger(value))) return false
  return value > (above ?? -Infinity) && value >= (from ?? -Infinity) && value <= (to ?? Infinity)
}

function wording({ above, from, to, whole }: NumberRange): string {
  const kind = whole ? 'a whole number' : 'a number'
  if (above !== undefined) return `${kind} above ${above}${to === undefined ? '' : `, at most ${to}`}`
  if (from !== undefined && to !== undefined) return `${kind} from ${from} to ${to}`
  return from === undefined ? kind : `${kind} of ${from} or more`
}

/** A day of the dock's calendar. */
export const dayCell: Cell<string> = {
  expects: 'a date such as 2031-04-18',
  read: reading((text, refuse) => {
    const result = Day.safeParse(text)
    return result.success ? result.data : refuse(`${shown(text)}: ${result.error.issues[0]?.message}`)
  }),
  write: (day) => day,
}

const PLAIN_DAY = /^\d{4}-\d{2}-\d{2}$/
const WITHOUT_OFFSET = /T\d{2}:\d{2}(:\d{2}(\.\d+)?)?$/

/** An instant with its offset, kept in UTC; a plain date is its midnight in UTC. */
export const instantCell: Cell<string> = {
  expects: 'an instant such as 2031-04-18T09:30:00Z, or a date for its midnight in UTC',
  read: reading((text, refuse) => {
    if (WITHOUT_OFFSET.test(text))
      return refuse(`${shown(text)} does not say its offset from UTC: end it with Z or +02:00`)
    const result = Instant.safeParse(PLAIN_DAY.test(text) ? `${text}T00:00:00Z` : text)
    if (!result.success) return refuse(`${shown(text)}: ${result.error.issues[0]?.message}`)
    return new Date(result.data).toISOString()
  }),
  write: (instant) => instant.replace('.000Z', 'Z'),
}
