import { convertPotential } from '../../src/engine/electrochemistry/electrode.js'
import type { ReferenceElectrode } from '../../src/engine/reference/vocabulary.js'
import { type Dice, dice } from '../random.js'
import type { Boat } from './boats.js'
import { addDays } from './calendar.js'
import { berthNamed } from './harbour.js'
import { OUTFITS, type Outfit } from './outfits.js'
import { CABLE_FAULT_DAYS_AGO, CHARGER_WIRED_DAYS_AGO, GANNET_THREE, isReadWithoutSign } from './stories.js'

export interface Potential {
  boat: string
  measuredAt: string
  fitting: string
  reference: ReferenceElectrode
  volts: number
  shorePower: 'connected' | 'disconnected'
  circuits: 'on' | 'off' | ''
}

/** Level of the bonded hull in good order [V, Ag/AgCl in seawater], as such boats show it. */
const USUAL_VOLTS = { grp: -0.9, wood: -0.58, steel: -0.89, aluminium: -0.98, ferrocement: -0.87 } as const
/** Weaker where zinc has crusted over in the fresh basin, and above the window of timber with magnesium in salt water. */
const STORY_VOLTS: Readonly<Record<string, number>> = { Fennimore: -0.46, 'Windfall Annie': -1.04 }

interface Setting {
  shorePower: Potential['shorePower']
  circuits: Potential['circuits']
  /** How far the story moves the reading. */
  shift: number
}

/** The readings of one boat: a survey every year or two for about half of them, and what the stories call for. */
export function potentialsOf(boat: Boat, today: string): Potential[] {
  if (boat.years === 0) return []
  const surveyDays = surveysOf(boat)
  return surveyDays.flatMap((daysAgo) => {
    const chance = dice(boat.boat, 'survey', daysAgo)
    const date = addDays(today, -daysAgo)
    const reference: ReferenceElectrode = chance.pick(['ag-agcl-seawater', 'ag-agcl-seawater', 'sce', 'zinc'])
    const hull = usualVolts(boat, daysAgo) + chance.normal(0, boat.hull === 'wood' ? 0.008 : 0.025)
    const readings = settingsOf(boat, daysAgo).map((setting, index) =>
      potential(boat, `${date}T10:${12 + 4 * index}:00Z`, '', reference, hull + setting.shift, setting),
    )
    return [...readings, ...fittingReadings(boat, date, daysAgo, hull, chance)]
  })
}

/** Days before today on which someone came with an electrode. */
function surveysOf(boat: Boat): number[] {
  const longest = boat.years * 365 - 20
  const chance = dice(boat.boat, 'surveys')
  if (boat.boat === 'Second Kettle') return [620, 44]
  if (GANNET_THREE.includes(boat.boat))
    return [700 + Math.round(chance.between(0, 60)), Math.round(chance.between(50, 70))]
  if (boat.boat === "Plover's Errand" || boat.boat === 'Tolliver') return [900, 140]
  if (boat.boat in STORY_VOLTS) return [1180, 95]
  if (!chance.chance(0.5)) return []
  const first = Math.round(chance.between(40, 420))
  return [first + 400, first].filter((daysAgo) => daysAgo < longest)
}

function usualVolts(boat: Boat, daysAgo: number): number {
  if (daysAgo < 500 && boat.boat in STORY_VOLTS) return STORY_VOLTS[boat.boat]!
  return USUAL_VOLTS[boat.hull]
}

/** One plain reading as a rule; a pair where switching something tells the cause. */
function settingsOf(boat: Boat, daysAgo: number): Setting[] {
  const lead = berthNamed(boat.berth).shorePower && boat.shoreHours > 0 ? 'connected' : 'disconnected'
  if (boat.boat === 'Second Kettle' && daysAgo < CHARGER_WIRED_DAYS_AGO) {
    return [
      { shorePower: 'disconnected', circuits: 'off', shift: 0 },
      { shorePower: 'disconnected', circuits: 'on', shift: 0.29 },
      { shorePower: 'connected', circuits: 'off', shift: 0.01 },
    ]
  }
  if (lead === 'connected' && boat.galvanicIsolator === 'no') {
    const shift = GANNET_THREE.includes(boat.boat) && daysAgo < CABLE_FAULT_DAYS_AGO ? 0.17 : 0.03
    return [
      { shorePower: 'connected', circuits: '', shift },
      { shorePower: 'disconnected', circuits: '', shift: 0 },
    ]
  }
  return [{ shorePower: lead, circuits: 'off', shift: 0 }]
}

/** A bonded fitting reads what the hull reads; one whose anode has no contact, nearly its free potential. */
function fittingReadings(boat: Boat, date: string, daysAgo: number, hull: number, chance: Dice): Potential[] {
  const outfit: Outfit = OUTFITS[boat.outfit]
  const shaft = outfit.fittings.find((fitting) => fitting.bonded && fitting.fitting.includes('shaft'))
  if (shaft === undefined) return []
  const alone = boat.boat === "Plover's Errand" && daysAgo < 500
  const right = alone ? -0.34 : hull + chance.between(0, 0.02)
  const volts = isReadWithoutSign(boat.boat, daysAgo) ? -right : right
  const setting: Setting = { shorePower: 'disconnected', circuits: 'off', shift: 0 }
  return [potential(boat, `${date}T10:40:00Z`, shaft.fitting, 'ag-agcl-seawater', volts, setting)]
}

function potential(
  boat: Boat,
  measuredAt: string,
  fitting: string,
  reference: ReferenceElectrode,
  volts: number,
  { shorePower, circuits }: Setting,
): Potential {
  const shown = Number(convertPotential(volts, 'ag-agcl-seawater', reference).toFixed(3))
  return { boat: boat.boat, measuredAt, fitting, reference, volts: shown, shorePower, circuits }
}
