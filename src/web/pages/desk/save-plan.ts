import type { LiftPlanRequest } from '../../../contract/desk-plan.js'
import { readFile } from '../../api/http.js'

/** Saves the plan as a file for a spreadsheet: what is asked goes in the body, so that no plain link can fetch it. */
export async function savePlan(request: LiftPlanRequest): Promise<void> {
  const file = await readFile('/v1/desk/lift-plan.csv', request)
  const link = document.createElement('a')
  link.href = URL.createObjectURL(file)
  link.download = 'lift-plan.csv'
  link.click()
  URL.revokeObjectURL(link.href)
}
