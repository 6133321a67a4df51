import { OutOfRange } from '../../errors.js'
import type { RateModel } from '../../rates/rate-model.js'
import type { Anomaly } from '../anomaly.js'
import { viewFleet } from '../evidence/fleet-view.js'
import { supportsFault } from '../evidence-of-fault.js'
import type { FleetFacts } from '../fleet-facts.js'
import { againstPractice } from './against-practice.js'
import { BoatSearch } from './boat-search.js'
import { directionOf } from './candidate.js'
import { type Chosen, chooseAnomalies } from './choose.js'
import { gatherPlaces, type PlaceWithBoats } from './gather-places.js'
import { judgedLosses } from './judged-losses.js'
import { dateShift } from './onset.js'
import { RowPredictor } from './predict-rows.js'
import { type Place, SharedSearch } from './shared-search.js'
import { panelsOfBoats, shareOut, Whereabouts } from './sharing.js'
import { standingShifts } from './standing-shifts.js'
import { byName, wearGroups } from './wear-groups.js'

export interface DetectionOptions {
  /** Expected share of false ones among the anomalies found, in (0, 1). */
  readonly falseDiscoveryRate: number
}

/**
 * Finds wear that chance does not explain: faster or slower than predicted without it, of one anode, of a boat's anodes together,
 * of a berth's or a pontoon's boats. One fault is one anomaly, at the level that explains it best.
 *
 * @param model the fleet's rates as fitted
 * @param facts whose berths say which belong to one pontoon
 * @returns the strongest first; none where there is nothing to compare with
 * @throws OutOfRange for a rate outside (0, 1)
 */
export function detectAnomalies(
  model: RateModel,
  facts: FleetFacts,
  { falseDiscoveryRate }: DetectionOptions,
): Anomaly[] {
  if (!(falseDiscoveryRate > 0 && falseDiscoveryRate < 1)) {
    throw new OutOfRange('false discovery rate', falseDiscoveryRate, 'above 0 and below 1')
  }
  const predictor = new RowPredictor(model)
  const searches = wearGroups(model, judgedLosses(model)).flatMap((group) => BoatSearch.of(predictor, group) ?? [])
  const places = searches.filter(({ group }) => group.scope === 'anode')
  const boats = searches.filter(({ group }) => group.scope === 'boat')
  const panels = panelsOfBoats(places, boats)
  const wholeBoats = [...panels.values()].map((panel) => searches.find((search) => search.panel === panel)!)
  const sharedPlaces = placesOf(facts)
  const shared = new SharedSearch(model, sharedPlaces, wholeBoats, standingShifts(model, sharedPlaces))
  const pontoonOf = new Map(facts.berths.map(({ berth, pontoon }) => [berth, pontoon]))
  const where = new Whereabouts(model, pontoonOf, panels)
  const fleet = viewFleet(model, facts)
  const isSupported = (weak: Chosen) => supportsFault(fleet, weak.candidate.p, () => describe(model, where, weak))
  const chosen = chooseAnomalies({ places, boats, shared }, falseDiscoveryRate, isSupported)
  const inRates = chosen.map((each) => describe(model, where, each))
  const anomalies = [...inRates, ...againstPractice(predictor, fleet, where, inRates)]
  return gatherPlaces(anomalies, withBoats(sharedPlaces, where), panels.size)
}

function withBoats(places: readonly Place[], where: Whereabouts): PlaceWithBoats[] {
  return places.map(({ scope, name, pontoon, berths }) => ({
    scope,
    name,
    pontoon,
    boats: new Set(where.panelsAt((berth) => berths.has(berth)).flatMap(({ losses }) => losses[0]?.boat ?? [])),
  }))
}

/** Berths, and pontoons of two berths or more, by name. */
function placesOf({ berths }: FleetFacts): Place[] {
  const ofPontoon = new Map<string, string[]>()
  for (const { berth, pontoon } of berths) {
    if (pontoon === null) continue
    ofPontoon.set(pontoon, [...(ofPontoon.get(pontoon) ?? []), berth])
  }
  const single = berths.map(
    ({ berth, pontoon }): Place => ({ scope: 'berth', name: berth, berths: new Set([berth]), pontoon }),
  )
  const joint = [...ofPontoon]
    .filter(([, own]) => own.length > 1)
    .map(([pontoon, own]): Place => ({ scope: 'pontoon', name: pontoon, berths: new Set(own), pontoon }))
  return [...single, ...joint].sort((a, b) => byName(a.scope, b.scope) || byName(a.name, b.name))
}

function describe(model: RateModel, where: Whereabouts, { candidate, adjustedP }: Chosen): Anomaly {
  const { scope, boat, losses, score } = candidate
  const { onset, logRatio } = dateShift(model, candidate)
  const berth = scope === 'pontoon' ? null : (candidate.berth ?? where.berthOf(losses))
  return {
    scope,
    boat,
    berth,
    pontoon: candidate.pontoon ?? where.pontoonOf(berth),
    anodes: anodesInOrder(model, new Set(losses.map(({ anode }) => anode))),
    direction: directionOf(candidate),
    noticedBy: candidate.stretch.isSingle ? 'interval' : 'drift',
    onset,
    surprise: score,
    adjustedP,
    logRatio,
    shares: shareOut(where, candidate, logRatio.mean),
  }
}

function anodesInOrder(model: RateModel, keys: ReadonlySet<string>): string[] {
  return model.boats.flatMap(({ anodes }) => anodes.map(({ history }) => history.key)).filter((key) => keys.has(key))
}
