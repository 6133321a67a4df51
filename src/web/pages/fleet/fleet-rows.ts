import type { Alloy } from '../../../contract/vocabulary.js'
import type { Forecast } from '../../api/forecasts.js'
import { addDays, earliest } from '../../wording/days.js'

/** A boat of the fleet list: its anodes, the one expected first in front. */
export interface FleetRow {
  readonly boat: string
  readonly berth: string | null
  readonly pontoon: string | null
  readonly anodes: readonly [Forecast, ...Forecast[]]
  /** The anode most likely to be due before the next haul-out; null when no risk is known. */
  readonly riskiest: Forecast | null
  readonly wear: { readonly fast: number; readonly slow: number }
}

export const FLEET_ORDERS = ['replacement', 'recommended', 'risk', 'boat'] as const
export type FleetOrder = (typeof FLEET_ORDERS)[number]

/** What the list is narrowed to; '' and null mean no narrowing. */
export interface FleetFilter {
  readonly search: string
  readonly pontoon: string
  readonly alloy: Alloy | ''
  readonly dueWithinDays: number | null
}

/** Later than any date: where a date is beyond what the service looks at, the row comes last. */
const NEVER = '9999-12-31'

/**
 * Gathers forecasts by boat.
 *
 * @param pontoonOf pontoon by berth
 */
export function fleetRows(forecasts: readonly Forecast[], pontoonOf: ReadonlyMap<string, string>): FleetRow[] {
  const byBoat = new Map<string, Forecast[]>()
  for (const forecast of forecasts) {
    const known = byBoat.get(forecast.boat)
    if (known) known.push(forecast)
    else byBoat.set(forecast.boat, [forecast])
  }
  return [...byBoat].flatMap(([boat, items]) => {
    const [first, ...others] = items.toSorted(byReplacement)
    if (first === undefined) return []
    const berth = first.berth ?? null
    return {
      boat,
      berth,
      pontoon: berth === null ? null : (pontoonOf.get(berth) ?? null),
      anodes: [first, ...others] as const,
      riskiest: riskiestOf(items),
      wear: {
        fast: items.filter((item) => item.wear?.judgement === 'fast').length,
        slow: items.filter((item) => item.wear?.judgement === 'slow').length,
      },
    }
  })
}

/** The rows that match, in the order asked for. A row keeps only anodes of the alloy asked for. */
export function narrowRows(rows: readonly FleetRow[], filter: FleetFilter): FleetRow[] {
  return rows.flatMap((row) => {
    const narrowed = filter.alloy === '' ? row : onlyAlloy(row, filter.alloy)
    return narrowed !== null && matches(narrowed, filter) ? narrowed : []
  })
}

export function orderRows(rows: readonly FleetRow[], order: FleetOrder): FleetRow[] {
  return rows.toSorted((a, b) => COMPARE[order](a, b) || a.boat.localeCompare(b.boat))
}

/** Whether an anode is expected at its threshold within so many days. */
export function isDueWithin(forecast: Forecast, days: number): boolean {
  return (forecast.replace.p50 ?? NEVER) <= addDays(forecast.asOf, days)
}

const COMPARE: Readonly<Record<FleetOrder, (a: FleetRow, b: FleetRow) => number>> = {
  replacement: (a, b) => byReplacement(a.anodes[0], b.anodes[0]),
  recommended: (a, b) => compareText(earliestRecommended(a), earliestRecommended(b)),
  risk: (a, b) => (b.riskiest?.riskBeforeNextHaulOut ?? -1) - (a.riskiest?.riskBeforeNextHaulOut ?? -1),
  boat: () => 0,
}

function byReplacement(a: Forecast, b: Forecast): number {
  return (
    compareText(a.replace.p50 ?? NEVER, b.replace.p50 ?? NEVER) ||
    compareText(a.replace.p10 ?? NEVER, b.replace.p10 ?? NEVER) ||
    b.consumedNow - a.consumedNow
  )
}

function earliestRecommended(row: FleetRow): string {
  return earliest(row.anodes.flatMap((anode) => anode.recommendedOn ?? [])) ?? NEVER
}

function riskiestOf(items: readonly Forecast[]): Forecast | null {
  const known = items.filter((item) => item.riskBeforeNextHaulOut !== null)
  const [worst] = known.toSorted((a, b) => (b.riskBeforeNextHaulOut ?? 0) - (a.riskBeforeNextHaulOut ?? 0))
  return worst ?? null
}

function onlyAlloy(row: FleetRow, alloy: Alloy): FleetRow | null {
  const [first, ...others] = row.anodes.filter((anode) => anode.alloy === alloy)
  if (first === undefined) return null
  return { ...row, anodes: [first, ...others], riskiest: riskiestOf([first, ...others]) }
}

function matches(row: FleetRow, { search, pontoon, dueWithinDays }: FleetFilter): boolean {
  if (pontoon !== '' && row.pontoon !== pontoon) return false
  if (dueWithinDays !== null && !row.anodes.some((anode) => isDueWithin(anode, dueWithinDays))) return false
  const words = search.trim().toLowerCase().split(/\s+/)
  const text = [row.boat, row.berth, row.pontoon, ...row.anodes.map((anode) => anode.anode)].join(' ').toLowerCase()
  return words.every((word) => text.includes(word))
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
