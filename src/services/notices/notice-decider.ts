import type { PreviewedNotice } from '../../contract/notices.js'
import type { Db, Handles } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import {
  insertNotice,
  type KeptWhy,
  type NewNotice,
  queueForDecisions,
  toldBefore,
  toldWhy,
} from '../../db/repositories/notices.js'
import { choicesOfReaders, organisationsThatRemind, readReminderSettings } from '../../db/repositories/reminders.js'
import { firstWaking, localDay } from '../../engine/notices/quiet-hours.js'
import { sha256 } from '../access/secrets.js'
import { calendarDay, dayNumber } from '../dates/day-numbers.js'
import { type BoatCase, boatCases } from './boat-cases.js'
import { type BoatPart, lettersOfDay, Memory, type PlannedLetter } from './letters-of-day.js'
import type { TeamLetters } from './team-letters.js'

/** Decides who is written to, why and when. A decision and what it says was told are one transaction: told means on its way. */
export class NoticeDecider {
  readonly #db: Db
  readonly #across: Db
  readonly #team: TeamLetters
  readonly #now: () => Date

  constructor({ db, across }: Handles, team: TeamLetters, now: () => Date) {
    this.#db = db
    this.#across = across
    this.#team = team
    this.#now = now
  }

  /** Of every organisation that has reminders switched on. */
  async decideAll(): Promise<void> {
    for (const organisationId of await organisationsThatRemind(this.#across)) await this.decide(organisationId)
  }

  /** @returns how many letters are on their way now that were not before */
  decide(organisationId: string): Promise<number> {
    return inOrganisation(this.#db, { organisationId, actor: 'notices' }, async (tx) => {
      await queueForDecisions(tx, organisationId)
      const settings = await readReminderSettings(tx, organisationId)
      if (!settings.enabled) return 0
      const at = this.#now()
      const today = localDay(at, settings.timeZone)
      const boats = await boatCases(tx, organisationId)
      const memory = new Memory(await toldBefore(tx, organisationId))
      const letters = lettersOfDay(boats, memory, { today: dayNumber(today), leadDays: settings.leadDays })
      const due = [
        ...letters.map((letter) => newNotice(letter, today)),
        ...(await this.#team.due(tx, organisationId, today)),
      ]
      const choicesOf = await choicesOfReaders(
        tx,
        due.map(({ email }) => email),
      )
      const quiet = { from: settings.quietFrom, to: settings.quietTo }
      let written = 0
      for (const notice of due) {
        const { timeZone } = choicesOf(notice.email)
        const nextAttemptAt = firstWaking(at, timeZone ?? settings.timeZone, quiet).toISOString()
        if (await insertNotice(tx, organisationId, { ...notice, nextAttemptAt })) written += 1
      }
      return written
    })
  }

  /** What would be sent over the coming days as things stand, whether or not reminders are switched on. */
  async preview(organisationId: string, days: number): Promise<{ items: PreviewedNotice[]; withoutAddress: string[] }> {
    const { coming, boats, until } = await this.#coming(organisationId, days)
    return {
      items: coming.map(({ letter, on }) => previewed(letter, on)),
      withoutAddress: dueWithoutAddress(boats, until),
    }
  }

  /** The first letter that would be sent over the coming days, as if it were sent today; `null` where there is none. */
  async next(organisationId: string, days: number, boat: string | null): Promise<PlannedNotice | null> {
    const { coming } = await this.#coming(organisationId, days)
    const next = coming.find(
      ({ letter }) => boat === null || (letter.kind === 'boat' && letter.parts[0]?.boat.boat === boat),
    )
    return next === undefined ? null : newNotice(next.letter, next.on)
  }

  async #coming(organisationId: string, days: number) {
    const { settings, boats, memory } = await inOrganisation(
      this.#db,
      { organisationId, actor: 'notices' },
      async (tx) => ({
        settings: await readReminderSettings(tx, organisationId),
        boats: await boatCases(tx, organisationId),
        memory: new Memory(await toldBefore(tx, organisationId)),
      }),
    )
    const first = dayNumber(localDay(this.#now(), settings.timeZone))
    const coming: { letter: PlannedLetter; on: string }[] = []
    for (let today = first; today < first + days; today++) {
      for (const letter of lettersOfDay(boats, memory, { today, leadDays: settings.leadDays })) {
        memory.add(letter, today)
        coming.push({ letter, on: calendarDay(today) })
      }
    }
    return { coming, boats, until: first + days + settings.leadDays }
  }
}

/** A letter that is not on its way yet. */
export type PlannedNotice = Omit<NewNotice, 'nextAttemptAt'>

function newNotice(letter: PlannedLetter, today: string): PlannedNotice {
  const { email, kind, parts } = letter
  const told = parts.flatMap(toldOf)
  const [first] = parts
  return {
    kind,
    email,
    boatId: kind === 'boat' ? first!.boat.boatId : null,
    // What is told of decides: the same letter decided again is the same letter.
    once: sha256(
      told
        .map(({ subject, turn, stage }) => `${subject} ${turn} ${stage}`)
        .sort()
        .join('\n'),
    ),
    decidedOn: today,
    why: parts.flatMap(reasonsOf),
    told,
  }
}

function toldOf({ boat, notice }: BoatPart): NewNotice['told'] {
  const anodes = notice.anodes.map(({ key, stage, turn }) => {
    const { p10, p90 } = boat.anodes.find((anode) => anode.key === key)!
    return { subject: key, isFinding: false, stage, turn, p10: dayOrNull(p10), p90: dayOrNull(p90) }
  })
  const findings = notice.findings.map((subject) => ({
    subject,
    isFinding: true,
    stage: 'first' as const,
    turn: 0,
    p10: null,
    p90: null,
  }))
  return [...anodes, ...findings]
}

function reasonsOf({ boat: { boatId, boat, anodes, findings }, notice }: BoatPart): KeptWhy[] {
  return [
    ...notice.anodes.map(({ key, because }) => {
      const { name, recommendedOn } = anodes.find((anode) => anode.key === key)!
      const due = { because, recommendedOn: dayOrNull(recommendedOn), finding: null }
      return { boatId, boat, anodeId: key, anode: name, ...due }
    }),
    ...notice.findings.map((key) => {
      const { id } = findings.find((finding) => finding.key === key)!
      return { boatId, boat, anodeId: null, anode: null, because: 'finding' as const, recommendedOn: null, finding: id }
    }),
  ]
}

function previewed({ email, kind, parts }: PlannedLetter, on: string): PreviewedNotice {
  return { on, kind, to: email, boats: parts.map(({ boat }) => boat.boat), why: toldWhy(parts.flatMap(reasonsOf)) }
}

function dueWithoutAddress(boats: readonly BoatCase[], until: number): string[] {
  return boats
    .filter(
      ({ email, anodes }) => email === null && anodes.some(({ recommendedOn }) => (recommendedOn ?? until) < until),
    )
    .map(({ boat }) => boat)
}

const dayOrNull = (day: number | null) => (day === null ? null : calendarDay(day))
