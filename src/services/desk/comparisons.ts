import type { ComparisonQuery, Comparisons } from '../../contract/desk.js'
import type { NamedEstimate } from '../../engine/forecast/fleet-forecast.js'
import { type GroupEffects, relativeRates } from '../../engine/planning/relative-rates.js'
import { alloyColumn, positionColumn } from '../../engine/rates/rate-design.js'
import type { DeskFleet, DeskFleetAnode, DeskFleetBoat } from './desk-fleet.js'

type By = ComparisonQuery['by']

/** An anode's group, and the fitted effect that tells it from others. */
interface Place {
  readonly group: string
  /** Name of the effect; anodes of one group may have several. */
  readonly effect: string
}

/** How fast anodes go by berth, pontoon, alloy or position, all else alike. */
export function comparisonsOf(fleet: DeskFleet, by: By): Comparisons {
  const estimates = by === 'berth' || by === 'pontoon' ? fleet.berthEffects : fleet.fixed
  const known = new Map(estimates.map((each) => [each.name, each]))
  const groups = new Map<string, Group>()
  for (const boat of fleet.boats) {
    for (const anode of boat.anodes) {
      const place = placeOf(by, boat, anode)
      if (place === null) continue
      const group = groups.get(place.group) ?? new Group()
      groups.set(place.group, group)
      group.add(boat.boat, known.get(place.effect))
    }
  }
  const rates = relativeRates([...groups].map(([group, each]) => ({ group, effects: each.effects })))
  const items = rates.map(({ group, rate }) => {
    const { boats, anodes } = groups.get(group)!
    return { group, boats: boats.size, anodes, rate }
  })
  return { asOf: fleet.asOf, by, items: items.sort((a, b) => fastestFirst(a.rate, b.rate) || byName(a.group, b.group)) }
}

function placeOf(by: By, { berth, pontoon, water }: DeskFleetBoat, { item, kind }: DeskFleetAnode): Place | null {
  if (by === 'position') return { group: kind, effect: positionColumn(kind) }
  if (by === 'alloy') {
    return item.alloy === null ? null : { group: item.alloy, effect: alloyColumn(item.alloy, water ?? 'salt') }
  }
  const group = by === 'berth' ? berth : pontoon
  return group === null || berth === null ? null : { group, effect: berth }
}

class Group {
  readonly boats = new Set<string>()
  anodes = 0
  readonly #counts = new Map<NamedEstimate, number>()

  add(boat: string, effect: NamedEstimate | undefined): void {
    this.boats.add(boat)
    this.anodes++
    if (effect !== undefined) this.#counts.set(effect, (this.#counts.get(effect) ?? 0) + 1)
  }

  get effects(): GroupEffects['effects'] {
    return [...this.#counts].map(([effect, anodes]) => ({ effect, anodes }))
  }
}

function fastestFirst(a: { middle: number } | null, b: { middle: number } | null): number {
  return (b?.middle ?? 0) - (a?.middle ?? 0)
}

/** "B2" before "B10". */
const byName = new Intl.Collator('en', { numeric: true }).compare
