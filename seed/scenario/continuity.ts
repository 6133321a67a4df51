import { dice } from '../random.js'
import type { Anode } from './anode-lives.js'
import type { Boat } from './boats.js'
import { addDays, daysBetween } from './calendar.js'
import { OUTFITS, type Outfit } from './outfits.js'

export interface Continuity {
  boat: string
  measuredAt: string
  from: string
  to: string
  ohms: number
}

/** Days before today on which the meter came out, for the boats whose stories it decides. */
const STORY_DAYS: Readonly<Record<string, number>> = {
  "Plover's Errand": 140,
  Tolliver: 140,
  'Second Kettle': 44,
  'Pewter Moon': 60,
  Fennimore: 95,
}

/** Between each anode and the bond, and each bonded fitting and the bond, on the day of a survey. */
export function continuityOf(boat: Boat, anodes: readonly Anode[], today: string): Continuity[] {
  const chance = dice(boat.boat, 'meter')
  const daysAgo = STORY_DAYS[boat.boat] ?? (chance.chance(0.3) ? Math.round(chance.between(30, 300)) : undefined)
  if (daysAgo === undefined || boat.years * 365 <= daysAgo) return []
  const date = addDays(today, -daysAgo)
  const outfit: Outfit = OUTFITS[boat.outfit]
  const fitted = anodes.filter(
    (anode) => anode.fittedOn <= date && (anode.removedOn ?? today) >= date && anode.mount.bonded,
  )
  const ends = [
    ...outfit.fittings.filter((fitting) => fitting.bonded).map((fitting) => ({ name: fitting.fitting, mount: '' })),
    ...fitted.map((anode) => ({ name: anode.anode, mount: anode.mount.mount })),
  ]
  return ends.map(({ name, mount }, index) => ({
    boat: boat.boat,
    measuredAt: `${date}T14:${String(10 + index).padStart(2, '0')}:00Z`,
    from: name,
    to: 'bond',
    ohms: ohmsOf(boat.boat, mount, daysBetween(date, today)) ?? Number(chance.between(0.02, 0.35).toFixed(2)),
  }))
}

/** Paint under a collar and a bolt that turns in its hole are found by the meter before they are seen. */
function ohmsOf(boat: string, mount: string, daysAgo: number): number | undefined {
  if (daysAgo > 500) return undefined
  if (boat === "Plover's Errand" && mount === 'shaft') return 46
  if (boat === 'Tolliver' && mount === 'hull') return 18.5
  return undefined
}
