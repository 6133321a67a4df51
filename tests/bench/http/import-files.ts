const ANODES_A_BOAT = 10
const WEIGHINGS_AN_ANODE = 10
const DAY_MS = 86_400_000
const DAYS_BETWEEN = 180
const GROSS_G = 1250
const CORE_G = 80
const LOST_A_LIFT_G = 70

/** CSV files by name: first those of the boats and their anodes, then so many weighings of them. */
export interface ImportFiles {
  readonly fleet: Readonly<Record<string, string>>
  readonly weighings: Readonly<Record<string, string>>
}

/** A fleet that was lifted every half year, each anode wearing steadily: nothing about it is doubtful. */
export function importFiles(weighings: number, today: string): ImportFiles {
  const boats = Math.ceil(weighings / (ANODES_A_BOAT * WEIGHINGS_AN_ANODE))
  const rows = {
    boats: ['boat'],
    anodes: ['boat,anode,position,alloy,fitted_on,gross_mass_g,core_mass_g'],
    weighings: ['boat,anode,weighed_on,mass_g,resolution_g'],
  }
  const dayOfLift = (lift: number) => {
    const daysAgo = (WEIGHINGS_AN_ANODE - lift) * DAYS_BETWEEN
    return new Date(Date.parse(today) - daysAgo * DAY_MS).toISOString().slice(0, 10)
  }
  for (let boat = 0; boat < boats; boat++) {
    rows.boats.push(`Boat ${boat}`)
    for (let anode = 0; anode < ANODES_A_BOAT; anode++) {
      const name = `Boat ${boat},hull ${anode}`
      rows.anodes.push(`${name},hull place ${anode},zinc,${dayOfLift(0)},${GROSS_G},${CORE_G}`)
      for (let lift = 1; lift <= WEIGHINGS_AN_ANODE; lift++) {
        rows.weighings.push(`${name},${dayOfLift(lift)},${GROSS_G - lift * LOST_A_LIFT_G - (boat % 7)},1`)
      }
    }
  }
  const file = (lines: readonly string[]) => `${lines.join('\n')}\n`
  return {
    fleet: { 'boats.csv': file(rows.boats), 'anodes.csv': file(rows.anodes) },
    weighings: { 'weighings.csv': file(rows.weighings.slice(0, weighings + 1)) },
  }
}
