import type { Comparisons, DepletionPage, DeskBoatPage, DeskCalendar } from '../../contract/desk.js'
import type { CountedParts, LiftPlanAnswer, PartsList } from '../../contract/desk-plan.js'
import { spreadsheet } from './spreadsheet.js'

/** The tables of the desk as files for a spreadsheet. */
export function boatsFile({ items }: DeskBoatPage): string {
  const columns = [
    'boat',
    'berth',
    'pontoon',
    'anodes',
    'anode_due_first',
    'position',
    'alloy',
    'consumed',
    'threshold',
  ]
  const dates = [
    'due_earliest',
    'due_expected',
    'due_latest',
    'replace_by',
    'next_haul_out',
    'planned',
    'risk',
    'open_findings',
  ]
  const rows = items.map(
    ({ boat, berth, pontoon, anodes, first, riskiest, recommendedOn, nextHaulOut, openFindings }) => [
      ...[boat, berth, pontoon, anodes, first?.anode ?? null, first?.position ?? null, first?.alloy ?? null],
      ...[first?.consumedNow ?? null, first?.threshold ?? null],
      ...[first?.replace.p10 ?? null, first?.replace.p50 ?? null, first?.replace.p90 ?? null, recommendedOn],
      ...[nextHaulOut?.on ?? null, yesNo(nextHaulOut?.planned), riskiest?.risk ?? null, openFindings.length],
    ],
  )
  return spreadsheet([...columns, ...dates], rows)
}

export function calendarFile({ overdue, periods }: DeskCalendar): string {
  const due = [...overdue, ...periods.flatMap((period) => period.due)].map(
    ({ on, boat, anode, position, alloy, earliest, latest }) =>
      [on, 'due', boat, anode, position, alloy, earliest, latest] as const,
  )
  const lifts = periods
    .flatMap((period) => period.lifts)
    .map(({ on, boat }) => [on, 'planned haul-out', boat, null, null, null, null, null] as const)
  const rows = [...due, ...lifts].sort(([a], [b]) => (a === b ? 0 : a < b ? -1 : 1))
  return spreadsheet(['on', 'what', 'boat', 'anode', 'position', 'alloy', 'earliest', 'latest'], rows)
}

export function depletionFile({ months, items }: DepletionPage): string {
  const rows = items.map(({ boat, berth, pontoon, consumed }) => [boat, berth, pontoon, ...consumed])
  return spreadsheet(['boat', 'berth', 'pontoon', ...months.map((month) => month.slice(0, 7))], rows)
}

export function comparisonsFile({ by, items }: Comparisons): string {
  const rows = items.map(({ group, boats, anodes, rate }) => [
    group,
    boats,
    anodes,
    rate?.middle ?? null,
    rate?.low ?? null,
    rate?.high ?? null,
  ])
  return spreadsheet([by, 'boats', 'anodes', 'rate_of_the_fleet', 'low', 'high'], rows)
}

export function liftPlanFile({ days, unheld }: LiftPlanAnswer): string {
  const lifts = days.flatMap(({ on, boats }) =>
    boats.map(({ boat, berth, latest, risk, replace }) => [
      on,
      boat,
      berth,
      latest,
      risk,
      replace.map(({ anode }) => anode).join('; '),
      unheld.find((each) => each.boat === boat)?.reason ?? null,
    ]),
  )
  const without = unheld
    .filter(({ liftedOn }) => liftedOn === null)
    .map(({ boat, berth, risk, reason }) => [null, boat, berth, null, risk, null, reason])
  return spreadsheet(['on', 'boat', 'berth', 'latest', 'risk', 'replace', 'not_held_because'], [...lifts, ...without])
}

export function partsFile({ parts }: Pick<PartsList, 'parts'>): string {
  const rows = (parts satisfies CountedParts).map(({ alloy, shape, massG, count }) => [alloy, shape, massG, count])
  return spreadsheet(['alloy', 'shape', 'mass_g', 'count'], rows)
}

function yesNo(is: boolean | undefined): string | null {
  if (is === undefined) return null
  return is ? 'yes' : 'no'
}
