import type { FleetRecords } from '../../db/repositories/fleet-records.js'
import { dayNumber, dayOfInstant } from '../dates/day-numbers.js'
import type { SeenFault } from './seen-faults.js'

/**
 * The day of the newest weighing that may bear on an anomaly: a mass, where a rate shows it; a look at its anodes or a reading on
 * its boat, where they do.
 */
export function newestEvidenceIn(
  records: Pick<FleetRecords, 'weighings' | 'potentials' | 'continuity'>,
): (seen: SeenFault) => number | null {
  const weighed = new Map<string, number>()
  const looked = new Map<string, number>()
  const read = new Map<string, number>()
  const note = (days: Map<string, number>, key: string, day: number) =>
    days.set(key, Math.max(days.get(key) ?? -Infinity, day))
  for (const { anodeId, weighedOn, conditions, submergedMassG } of records.weighings) {
    note(weighed, anodeId, dayNumber(weighedOn))
    if (conditions.length > 0 || submergedMassG !== null) note(looked, anodeId, dayNumber(weighedOn))
  }
  for (const { boatId, measuredAt } of [...records.potentials, ...records.continuity])
    note(read, boatId, dayOfInstant(measuredAt))
  return ({ diagnosis: { anomaly }, boatId }) => {
    const ofAnodes = anomaly.noticedBy === 'reading' ? looked : weighed
    const days = anomaly.anodes.flatMap((key) => ofAnodes.get(key) ?? [])
    const ofBoat = anomaly.noticedBy === 'reading' && boatId !== null ? (read.get(boatId) ?? null) : null
    return [...days, ...(ofBoat === null ? [] : [ofBoat])].reduce<number | null>(
      (newest, day) => Math.max(newest ?? -Infinity, day),
      null,
    )
  }
}
