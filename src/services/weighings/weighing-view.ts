import type { WeighingHistory, WeighingView } from '../../contract/weighings.js'
import type { WeighingEntry, WeighingRecord } from '../../db/repositories/weighings.js'
import { remainingShare } from '../../engine/depletion/shapes.js'
import { grossMassOf } from './weighing-errors.js'

/** A weighing as it is shown: with the net mass and the consumed fraction, where they are known. */
export function weighingView({ whenFitted, boatId: _, ...weighing }: WeighingRecord): WeighingView {
  const { grossMassG, coreMassG } = whenFitted
  const massG = grossMassOf(weighing, whenFitted)
  const netMassG = massG === null || coreMassG === null ? null : massG - coreMassG
  const newNetG = grossMassG === null || coreMassG === null ? null : grossMassG - coreMassG
  const share = netMassG !== null && newNetG !== null ? netMassG / newNetG : shareJudged(weighing, whenFitted)
  return { ...weighing, netMassG, consumedFraction: share === null ? null : 1 - share }
}

/** The share left as judged by eye or by calipers, which needs no mass. */
function shareJudged(
  weighing: Omit<WeighingRecord, 'whenFitted' | 'boatId'>,
  whenFitted: WeighingRecord['whenFitted'],
) {
  if (weighing.method === 'visual' && weighing.wastedPercent !== null) return 1 - weighing.wastedPercent / 100
  return weighing.method === 'dimensions' ? remainingShare(weighing, whenFitted) : null
}

/** The audit trail's names of what is shown of a weighing, to the API's. */
const SHOWN_COLUMNS: Readonly<Record<string, string>> = {
  haul_out_id: 'haulOutId',
  weighed_on: 'weighedOn',
  method: 'method',
  mass_g: 'massG',
  resolution_g: 'resolutionG',
  cleaned: 'cleaned',
  submerged_mass_g: 'submergedMassG',
  submerged_in: 'submergedIn',
  wasted_percent: 'wastedPercent',
  length_mm: 'lengthMm',
  width_mm: 'widthMm',
  height_mm: 'heightMm',
  conditions: 'conditions',
  note: 'note',
}

/** The audit trail's entries of one weighing as a history of what became what. */
export function weighingHistory(entries: readonly WeighingEntry[]): WeighingHistory {
  return {
    items: entries.map(({ at, by, action, reason, before, after }) => ({
      at: new Date(at).toISOString(),
      by,
      action,
      reason,
      changes: Object.entries(SHOWN_COLUMNS).flatMap(([column, field]) => {
        const from = before?.[column] ?? null
        const to = after?.[column] ?? null
        return JSON.stringify(from) === JSON.stringify(to) ? [] : [{ field, from, to }]
      }),
    })),
  }
}
