import type { ToldRow } from '../../db/repositories/notices.js'
import { type DueNotice, dueNotice, type Told } from '../../engine/notices/notice-rules.js'
import { dayNumber } from '../dates/day-numbers.js'
import type { BoatCase } from './boat-cases.js'

/** One boat's part of a letter. */
export interface BoatPart {
  readonly boat: BoatCase
  readonly notice: DueNotice
}

/** A letter to one address: of one boat, or of many at once. */
export interface PlannedLetter {
  readonly email: string
  readonly kind: 'boat' | 'summary'
  readonly parts: readonly BoatPart[]
}

/** Up to so many boats of one owner get a letter each; more at once are one letter. Convention. */
const MOST_SINGLE_LETTERS = 3

/** What each address was told, by subject. */
export class Memory {
  readonly #anodes = new Map<string, Map<string, Told>>()
  readonly #findings = new Map<string, Set<string>>()

  constructor(rows: readonly ToldRow[]) {
    for (const { email, subject, isFinding, stage, turn, toldOn, p10, p90 } of rows) {
      if (isFinding) this.findingsOf(email).add(subject)
      else {
        const told = { stage, turn, on: dayNumber(toldOn), p10: dayOrNull(p10), p90: dayOrNull(p90) }
        this.anodesOf(email).set(subject, told)
      }
    }
  }

  anodesOf(email: string): Map<string, Told> {
    return kept(this.#anodes, email, () => new Map())
  }

  findingsOf(email: string): Set<string> {
    return kept(this.#findings, email, () => new Set())
  }

  /** Remembers a letter as told. */
  add({ email, parts }: PlannedLetter, today: number): void {
    for (const { boat, notice } of parts) {
      for (const { key, stage, turn } of notice.anodes) {
        const { p10, p90 } = boat.anodes.find((anode) => anode.key === key)!
        this.anodesOf(email).set(key, { stage, turn, on: today, p10, p90 })
      }
      for (const key of notice.findings) this.findingsOf(email).add(key)
    }
  }
}

function kept<Value>(map: Map<string, Value>, key: string, make: () => Value): Value {
  const value = map.get(key) ?? make()
  map.set(key, value)
  return value
}

const dayOrNull = (day: string | null) => (day === null ? null : dayNumber(day))

/** The letters of a day: one a boat, or one for all boats of an owner who has many due at once, as after a first import. */
export function lettersOfDay(
  boats: readonly BoatCase[],
  memory: Memory,
  { today, leadDays }: { readonly today: number; readonly leadDays: number },
): PlannedLetter[] {
  const byAddress = new Map<string, BoatPart[]>()
  for (const boat of boats) {
    const { email, isStopped, snoozedUntil, leadDays: own } = boat
    if (email === null) continue
    const notice = dueNotice({
      today,
      anodes: boat.anodes,
      findings: boat.findings.map(({ key }) => key),
      toldOfAnodes: memory.anodesOf(email),
      toldOfFindings: memory.findingsOf(email),
      wishes: { leadDays: own ?? leadDays, isStopped, snoozedUntil: dayOrNull(snoozedUntil) },
    })
    if (notice !== null) kept(byAddress, email, (): BoatPart[] => []).push({ boat, notice })
  }
  return [...byAddress].flatMap(([email, parts]): PlannedLetter[] =>
    parts.length > MOST_SINGLE_LETTERS
      ? [{ email, kind: 'summary', parts }]
      : parts.map((part) => ({ email, kind: 'boat', parts: [part] })),
  )
}
