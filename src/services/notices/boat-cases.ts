import type { Db } from '../../db/client.js'
import { findingsOf } from '../../db/repositories/findings.js'
import { forecastsOfFit, newestFit } from '../../db/repositories/forecasts.js'
import { type RemindedBoat, remindedBoats } from '../../db/repositories/reminders.js'
import type { DueAnode } from '../../engine/notices/notice-rules.js'
import type { AnodeAlloy } from '../../engine/reference/vocabulary.js'
import { dayNumber } from '../dates/day-numbers.js'

/** What may be told of one boat as the last fit has it. */
export interface BoatCase extends RemindedBoat {
  readonly anodes: readonly NamedDueAnode[]
  readonly findings: readonly BoatFinding[]
}

export interface NamedDueAnode extends DueAnode {
  readonly name: string
  readonly position: string
  readonly alloy: AnodeAlloy | null
}

export interface BoatFinding {
  /** Its id, and how often it was reopened: a fault that returns is told again. */
  readonly key: string
  readonly id: string
}

/**
 * Every boat of an organisation with what stands in its forecasts and findings: of those that the last fit issued, whatever its day, for a
 * fit that failed tonight must not silence anybody.
 *
 * @param boatId of one boat alone
 */
export async function boatCases(db: Db, organisationId: string, boatId?: string): Promise<BoatCase[]> {
  const fit = await newestFit(db, organisationId)
  const issued = fit === undefined ? [] : await forecastsOfFit(db, organisationId, fit.id, boatId)
  const anodes = new Map<string, NamedDueAnode[]>()
  for (const { anodeId, boatId: of, item } of issued) {
    const { p10, p50, p90 } = item.replace
    const own = anodes.get(of) ?? []
    anodes.set(of, own)
    own.push({
      key: anodeId,
      name: item.anode,
      position: item.position,
      alloy: item.alloy,
      recommendedOn: numberOrNull(item.recommendedOn),
      p10: numberOrNull(p10),
      p50: numberOrNull(p50),
      p90: numberOrNull(p90),
    })
  }
  const findings = new Map<string, BoatFinding[]>()
  for (const { id, boatId: of, state, reopened } of await findingsOf(db, organisationId, boatId)) {
    if (of === null || state === 'resolved' || state === 'closed') continue
    findings.set(of, [...(findings.get(of) ?? []), { id, key: `${id} ${reopened}` }])
  }
  const boats = await remindedBoats(db, organisationId, boatId)
  return boats.map((boat) => ({
    ...boat,
    anodes: anodes.get(boat.boatId) ?? [],
    findings: findings.get(boat.boatId) ?? [],
  }))
}

const numberOrNull = (day: string | null) => (day === null ? null : dayNumber(day))
