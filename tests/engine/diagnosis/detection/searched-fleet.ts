import { BoatSearch } from '../../../../src/engine/diagnosis/detection/boat-search.js'
import type { Searches } from '../../../../src/engine/diagnosis/detection/choose.js'
import { judgedLosses } from '../../../../src/engine/diagnosis/detection/judged-losses.js'
import { RowPredictor } from '../../../../src/engine/diagnosis/detection/predict-rows.js'
import { type Place, SharedSearch } from '../../../../src/engine/diagnosis/detection/shared-search.js'
import { panelsOfBoats } from '../../../../src/engine/diagnosis/detection/sharing.js'
import { standingShifts } from '../../../../src/engine/diagnosis/detection/standing-shifts.js'
import { wearGroups } from '../../../../src/engine/diagnosis/detection/wear-groups.js'
import { fitRates } from '../../../../src/engine/rates/fit-rates.js'
import type { FleetHistory } from '../../../../src/engine/rates/fleet-history.js'
import type { RateModel } from '../../../../src/engine/rates/rate-model.js'

/** Every berth of a fleet as a place of its own. */
export function berthsOf(fleet: FleetHistory): Place[] {
  return fleet.berths.map(({ berth }) => ({ scope: 'berth', name: berth, berths: new Set([berth]), pontoon: null }))
}

/** A fleet fitted and ready to be searched, by place, boat and berth. */
export function searchedFleet(fleet: FleetHistory, asOf: number): { model: RateModel; searches: Searches } {
  const model = fitRates(fleet, asOf)
  const predictor = new RowPredictor(model)
  const all = wearGroups(model, judgedLosses(model)).flatMap((group) => BoatSearch.of(predictor, group) ?? [])
  const of = (scope: string) => all.filter(({ group }) => group.scope === scope)
  const [places, boats] = [of('anode'), of('boat')]
  const panels = new Set(panelsOfBoats(places, boats).values())
  const whole = all.filter(({ panel }) => panels.has(panel))
  const berths = berthsOf(fleet)
  return {
    model,
    searches: { places, boats, shared: new SharedSearch(model, berths, whole, standingShifts(model, berths)) },
  }
}
