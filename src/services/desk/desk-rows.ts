import type { DeskAnode, DeskBoat, DeskFilter } from '../../contract/desk.js'
import type { ForecastItem } from '../../contract/forecasts.js'
import type { OpenFindingRow } from '../../db/repositories/open-findings.js'
import type { DeskFleet, DeskFleetAnode, DeskFleetBoat } from './desk-fleet.js'

type OpenFinding = DeskBoat['openFindings'][number]

/** A boat that matches, with those of its anodes that do. */
export interface MatchingBoat extends DeskFleetBoat {
  readonly openFindings: readonly OpenFinding[]
}

/** The unsettled findings of each boat: those in whose wear its anodes show. */
export function findingsByBoat(fleet: DeskFleet, open: readonly OpenFindingRow[]): Map<string, OpenFinding[]> {
  const found = new Map<string, OpenFinding[]>()
  for (const { id, direction, anodes } of open) {
    const boats = new Set(anodes.flatMap((anode) => fleet.boatOfAnode.get(anode) ?? []))
    for (const boat of boats) found.set(boat, [...(found.get(boat) ?? []), { id, direction }])
  }
  return found
}

/** The boats that a filter lets through; where it asks for an alloy or a position, each with those anodes alone. */
export function matchingBoats(
  fleet: DeskFleet,
  findings: ReadonlyMap<string, readonly OpenFinding[]>,
  filter: DeskFilter,
): MatchingBoat[] {
  const narrows = filter.alloy !== undefined || filter.position !== undefined
  return fleet.boats.flatMap((boat) => {
    const anodes = boat.anodes.filter((anode) => isOfKind(anode, filter))
    const openFindings = findings.get(boat.boat) ?? []
    const matching = { ...boat, anodes, openFindings }
    return (!narrows || anodes.length > 0) && matches(matching, boat, filter) ? [matching] : []
  })
}

function isOfKind({ item, kind }: DeskFleetAnode, { alloy, position }: DeskFilter): boolean {
  return (alloy === undefined || item.alloy === alloy) && (position === undefined || kind === position)
}

function matches(boat: MatchingBoat, whole: DeskFleetBoat, filter: DeskFilter): boolean {
  const { text, pontoon, berth, dueBefore, riskAbove, openFindings } = filter
  const items = boat.anodes.map(({ item }) => item)
  return (
    (text === undefined || textOf(whole).includes(text.toLowerCase())) &&
    (pontoon === undefined || boat.pontoon === pontoon) &&
    (berth === undefined || boat.berth === berth) &&
    (dueBefore === undefined || items.some(({ replace }) => replace.p50 !== null && replace.p50 <= dueBefore)) &&
    (riskAbove === undefined || items.some(({ riskBeforeNextHaulOut }) => riskBeforeNextHaulOut > riskAbove)) &&
    (openFindings === undefined || boat.openFindings.length > 0 === (openFindings === 'yes'))
  )
}

function textOf({ boat, berth, pontoon, anodes }: DeskFleetBoat): string {
  return [boat, berth ?? '', pontoon ?? '', ...anodes.map(({ item }) => item.anode)].join('\n').toLowerCase()
}

export function deskBoat({ boat, berth, pontoon, water, anodes, openFindings }: MatchingBoat): DeskBoat {
  const items = anodes.map(({ item }) => item)
  const [first] = items.toSorted(byDue)
  const [riskiest] = items.toSorted((a, b) => b.riskBeforeNextHaulOut - a.riskBeforeNextHaulOut)
  return {
    boat,
    berth,
    pontoon,
    water,
    anodes: items.length,
    first: first === undefined ? null : deskAnode(first),
    riskiest: riskiest === undefined ? null : deskAnode(riskiest),
    recommendedOn: items.flatMap(({ recommendedOn }) => recommendedOn ?? []).sort()[0] ?? null,
    nextHaulOut: first?.nextHaulOut ?? null,
    openFindings: [...openFindings],
  }
}

const LATER_THAN_ALL = '9999'

/** By the middle date, then by the early one, then by what is gone. */
export function byDue(a: ForecastItem, b: ForecastItem): number {
  const key = ({ replace }: ForecastItem) => `${replace.p50 ?? LATER_THAN_ALL}${replace.p10 ?? LATER_THAN_ALL}`
  if (key(a) !== key(b)) return key(a) < key(b) ? -1 : 1
  return b.consumedNow - a.consumedNow
}

function deskAnode(item: ForecastItem): DeskAnode {
  const { anode, position, alloy, consumedNow, threshold, replace, recommendedOn, riskBeforeNextHaulOut } = item
  const { p10, p50, p90 } = replace
  return {
    anode,
    position,
    alloy,
    consumedNow,
    threshold,
    replace: { p10, p50, p90 },
    recommendedOn,
    risk: riskBeforeNextHaulOut,
  }
}

type SortValue = string | number | null

/** What a list of boats can be sorted by. */
export const DESK_SORT_KEYS: Readonly<Record<string, (row: DeskBoat) => SortValue>> = {
  due: ({ first }) => first?.replace.p50 ?? null,
  recommended: ({ recommendedOn }) => recommendedOn,
  risk: ({ riskiest }) => riskiest?.risk ?? null,
  boat: ({ boat }) => boat,
  berth: ({ berth }) => berth,
}
