import type { RateModel } from '../rates/rate-model.js'
import type { Anomaly } from './anomaly.js'
import { chooseNextCheck } from './checks/next-check.js'
import type { Diagnosis, RecordedCheck } from './diagnosis.js'
import { type FleetView, viewFleet } from './evidence/fleet-view.js'
import { gatherEvidence, gatherQuestions } from './evidence/gather.js'
import { sceneOf } from './evidence/scene.js'
import type { FleetFacts } from './fleet-facts.js'
import { safetyOf } from './safety.js'
import { observedOf, rankCauses } from './weigh-evidence.js'

/**
 * What may lie behind an anomaly: the causes ranked with the weight of each piece of evidence, the check that would tell most, what
 * contradicts itself in the records, and the cautions that belong to it.
 *
 * @param anomaly wear or a reading that chance does not explain
 * @param model the fleet's rates as fitted
 * @param facts what else is known of the fleet
 * @param checks what was found on purpose since, for this anomaly
 */
export function diagnose(
  anomaly: Anomaly,
  model: RateModel,
  facts: FleetFacts,
  checks: readonly RecordedCheck[],
): Diagnosis {
  return diagnoseIn(viewFleet(model, facts), anomaly, checks)
}

/** The same in a fleet that was put together before. */
export function diagnoseIn(fleet: FleetView, anomaly: Anomaly, checks: readonly RecordedCheck[]): Diagnosis {
  const scene = sceneOf(anomaly, fleet)
  const evidence = gatherEvidence(scene, checks)
  const causes = rankCauses(evidence)
  return {
    anomaly,
    causes,
    nextCheck: chooseNextCheck(scene, observedOf(evidence), checks),
    questions: gatherQuestions(scene),
    safety: safetyOf(scene, causes),
  }
}
