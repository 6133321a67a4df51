import type { Db } from '../../db/client.js'
import {
  type FindingRow,
  type FindingStep,
  findFinding,
  namedAnodes,
  namesOfBoats,
} from '../../db/repositories/findings.js'
import { isListenedFor } from '../../db/repositories/webhooks.js'
import { findingItem, withoutEvidence } from '../findings/finding-items.js'
import { emitWebhookEvent } from './emit.js'

/** Tells whoever listens that a finding was opened, or took another step, as it is after that step. */
export async function tellFindingStep(
  tx: Db,
  organisationId: string,
  findingId: string,
  { kind, from, to, note }: FindingStep,
): Promise<void> {
  const event = kind === 'opened' ? 'finding.opened' : 'finding.changed'
  if (!(await isListenedFor(tx, organisationId, [event]))) return
  const finding = await findFinding(tx, organisationId, findingId)
  if (finding === undefined) return
  const item = findingItem(finding, await allNames(tx, organisationId, finding))
  if (item === undefined) return
  const data = { ...withoutEvidence(item), step: { kind, from, to, note: note ?? null } }
  await emitWebhookEvent(tx, organisationId, { event, data })
}

async function allNames(tx: Db, organisationId: string, { detail }: FindingRow) {
  const anodes = await namedAnodes(tx, { organisationId }, detail.diagnosis.anomaly.anodes)
  return {
    anodes: new Map(anodes.map((anode) => [anode.id, anode])),
    boats: await namesOfBoats(tx, { organisationId }),
    isPartial: false,
  }
}
