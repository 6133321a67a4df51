import type { Role } from '../../contract/vocabulary.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { pageOfHaulOuts } from '../../db/repositories/haul-outs.js'
import { addressesOfTeam } from '../../db/repositories/members.js'
import type { NewNotice, NoticeRow } from '../../db/repositories/notices.js'
import { silentAddresses } from '../../db/repositories/reminders.js'
import type { WrittenLetter } from '../../outside/letters/letter.js'
import { digestLetter, liftsLetter } from '../../outside/letters/team-letter.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import { addDays } from '../dates/not-in-future.js'
import { boatCases } from './boat-cases.js'
import type { LetterLinks } from './letter-links.js'
import type { Reader } from './letter-writer.js'

/** How far a manager's letter looks ahead. Convention: as far as owners are told. */
const AHEAD_DAYS = 60
const MOST_LIFTS = 200
const WEEK_DAYS = 7
/** Wednesday: a week's letter is no use later. Convention. */
const LATEST_DAY = 2
/** 1 January 1970 was a Thursday. */
const THURSDAY = 3

/** The Monday of a day's week. */
export function mondayOf(day: string): string {
  const number = dayNumber(day)
  return calendarDay(number - ((((number + THURSDAY) % WEEK_DAYS) + WEEK_DAYS) % WEEK_DAYS))
}

const KINDS: Readonly<Partial<Record<Role, 'digest' | 'lifts'>>> = { manager: 'digest', staff: 'lifts' }

/** The letters that those who work with a fleet get once a week. */
export class TeamLetters {
  readonly #db: Db
  readonly #links: LetterLinks

  constructor(db: Db, links: LetterLinks) {
    this.#db = db
    this.#links = links
  }

  /** One letter a person and week, decided on Monday: a service that was down then sends it by Wednesday, or not that week. */
  async due(tx: Db, organisationId: string, today: string): Promise<Omit<NewNotice, 'nextAttemptAt'>[]> {
    const week = mondayOf(today)
    if (dayNumber(today) - dayNumber(week) > LATEST_DAY) return []
    const silent = await silentAddresses(tx, organisationId)
    return (await addressesOfTeam(tx, organisationId)).flatMap(({ email, role }) => {
      const kind = KINDS[role]
      if (kind === undefined || silent.has(email)) return []
      return { kind, boatId: null, email, once: `${kind} ${week}`, decidedOn: today, why: [], told: [] }
    })
  }

  async write({ organisationId, email, kind }: NoticeRow, reader: Reader): Promise<WrittenLetter | null> {
    const week = mondayOf(reader.today)
    const until = dayNumber(reader.today) + AHEAD_DAYS
    const { cases, lifts } = await inOrganisation(this.#db, { organisationId, actor: 'notices' }, async (tx) => ({
      cases: await boatCases(tx, organisationId),
      lifts: await pageOfHaulOuts(
        tx,
        { organisationId },
        { from: week, to: addDays(week, WEEK_DAYS - 1), sort: 'hauledOn', limit: MOST_LIFTS },
      ),
    }))
    const facts = {
      ...reader,
      week,
      days: AHEAD_DAYS,
      due: cases
        .flatMap(({ boat, anodes }) => {
          const first = Math.min(...anodes.map(({ recommendedOn }) => recommendedOn ?? Infinity))
          return first <= until ? { boat, on: calendarDay(first) } : []
        })
        .toSorted((a, b) => (a.on < b.on ? -1 : 1)),
      findings: cases.flatMap(({ boat, findings }) => (findings.length === 0 ? [] : { boat, count: findings.length })),
      lifts: lifts.items.map(({ boat, hauledOn }) => ({ boat, on: hauledOn })),
      links: {
        desk: this.#links.page('/desk'),
        lifts: this.#links.page('/lift'),
        choose: this.#links.choose({ organisationId, email, boatId: null }),
      },
    }
    return kind === 'lifts' ? liftsLetter(facts) : digestLetter(facts)
  }
}
