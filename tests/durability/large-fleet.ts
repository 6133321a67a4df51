import { Uniform } from '../engine/simulated-fleet.js'

const POSITIONS = ['shaft', 'hull', 'rudder'] as const
const BERTHS = 40
const LIFTS = 5
const DAY_MS = 86_400_000
const YEAR_DAYS = 365
const GROSS_G = 1250
const CORE_G = 80
const NET_G = GROSS_G - CORE_G
/** Of the net mass in a year, before what boat, berth and chance do to it. */
const YEARLY_LOSS = 0.25
const SPREAD = 0.25
const MOST_LOST = 0.9
const START = 20_311

/** CSV files of a fleet of as many owners as boats that was lifted yearly, each anode weighed, every second time replaced: 15 weighings a boat. */
export function largeFleet(boatCount: number, today: string): FormData {
  const random = new Uniform(START)
  const firstDay = Date.parse(today) / DAY_MS - (LIFTS + 1) * YEAR_DAYS
  const dayOf = (day: number) => new Date(day * DAY_MS).toISOString().slice(0, 10)
  const berthEffects = Array.from({ length: BERTHS }, () => SPREAD * random.normal())
  const rows = {
    boats: ['boat,owner_name,owner_email'],
    stays: ['boat,from,berth'],
    anodes: [ANODE_COLUMNS],
    weighings: [WEIGHING_COLUMNS],
  }
  for (let index = 0; index < boatCount; index++) {
    const boat = `Boat ${index}`
    const berth = index % BERTHS
    const afloatOn = firstDay + (index % 200)
    rows.boats.push(`${boat},Owner ${index},owner-${index}@example.org`)
    rows.stays.push(`${boat},${dayOf(afloatOn)},Berth ${berth}`)
    const logRate = Math.log(YEARLY_LOSS) + berthEffects[berth]! + SPREAD * random.normal()
    for (const position of POSITIONS) {
      const lives = anodeLives(random, logRate, afloatOn)
      for (const [number, { fittedOn, removedOn, weighings }] of lives.entries()) {
        const anode = `${position} ${number + 1}`
        const removed = removedOn === null ? '' : dayOf(removedOn)
        rows.anodes.push(`${boat},${anode},${position},zinc,${dayOf(fittedOn)},${removed},${GROSS_G},${CORE_G}`)
        for (const { day, massG } of weighings) rows.weighings.push(`${boat},${anode},${dayOf(day)},${massG},1`)
      }
    }
  }
  const berths = ['berth,water', ...berthEffects.map((_, berth) => `Berth ${berth},salt`)]
  return formOf({ berths, ...rows })
}

const ANODE_COLUMNS = 'boat,anode,position,alloy,fitted_on,removed_on,gross_mass_g,core_mass_g'
const WEIGHING_COLUMNS = 'boat,anode,weighed_on,mass_g,resolution_g'

interface AnodeLife {
  readonly fittedOn: number
  readonly removedOn: number | null
  readonly weighings: readonly { readonly day: number; readonly massG: number }[]
}

/** One piece after the other at a position, each weighed after a year and, if time is left, after two. */
function anodeLives(random: Uniform, logRate: number, afloatOn: number): AnodeLife[] {
  const lives: AnodeLife[] = []
  for (let lift = 0; lift < LIFTS; lift += 2) {
    const years = Math.min(2, LIFTS - lift)
    const yearly = Math.exp(logRate + 0.1 * random.normal())
    const weighings = Array.from({ length: years }, (_, year) => ({
      day: afloatOn + (lift + year + 1) * YEAR_DAYS,
      massG: Math.round(GROSS_G - NET_G * Math.min(MOST_LOST, yearly * (year + 1))),
    }))
    const removedOn = years === 2 ? weighings[1]!.day : null
    lives.push({ fittedOn: afloatOn + lift * YEAR_DAYS, removedOn, weighings })
  }
  return lives
}

function formOf(files: Record<string, readonly string[]>): FormData {
  const form = new FormData()
  for (const [name, lines] of Object.entries(files)) {
    const file = `${name}.csv`
    form.set(file, new Blob([`${lines.join('\n')}\n`], { type: 'text/csv' }), file)
  }
  return form
}
