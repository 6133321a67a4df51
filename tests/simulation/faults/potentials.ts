import type { CsvRowOf } from '../../../src/contract/csv/index.js'
import type { AnodeAlloy, ReferenceElectrode, Water } from '../../../src/engine/reference/vocabulary.js'
import { exposed, type TrueAnode } from '../anode-life.js'
import type { Draws } from '../draws.js'
import type { Berth } from '../sea.js'
import type { EvidenceHabits } from './abnormal-wear.js'
import { isMoreActive } from './galvanic-truth.js'
import type { TroubledDay } from './troubled-day.js'

type PotentialRow = CsvRowOf<'potentials.csv'>

/** Closed-circuit potentials against Ag/AgCl in seawater [V]. */
const CLOSED_CIRCUIT: Readonly<Record<AnodeAlloy, number>> = { zinc: -1.03, aluminium: -1.07, magnesium: -1.45 }
const FREE_BRONZE = -0.27
const FREE_STEEL = -0.63
/** Share of the way from the anode's potential to the free one that new anodes leave, by water: its resistance. */
const UNPOLARISED: Readonly<Record<Water, number>> = { salt: 0.1, brackish: 0.15, fresh: 0.28 }
/** What a stray current shifts the metal by where it leaves, for a factor e of the anodes' current [V]. */
const STRAY_SHIFT = 0.09
const SHORE_SHIFT = 0.05
/** A reading against another electrode, over that against Ag/AgCl in seawater [V]. */
const AGAINST: Readonly<Record<ReferenceElectrode, number>> = {
  'ag-agcl-seawater': 0,
  sce: 0.009,
  cse: -0.066,
  zinc: 1.03,
}

/** What does not change on a boat between its readings. */
export interface Meter {
  readonly reference: ReferenceElectrode
  /** Its hull's own share of the way to the free potential, over the water's usual one. */
  readonly unpolarised: number
}

export function drawMeter(draws: Draws): Meter {
  return {
    reference: draws.pick(['ag-agcl-seawater', 'ag-agcl-seawater', 'ag-agcl-seawater', 'cse', 'zinc'] as const),
    unpolarised: draws.lognormal(0.3),
  }
}

interface Switches {
  readonly shorePower: 'connected' | 'disconnected' | null
  readonly circuits: 'on' | 'off' | null
}

/** The potential of the bonded metal as it truly is [V against Ag/AgCl in seawater]. */
function bondVolts(day: TroubledDay, berth: Berth, anodes: readonly TrueAnode[], meter: Meter, is: Switches): number {
  const { trouble, drive, at } = day
  const free = drive.boat.hull === 'steel' ? FREE_STEEL : FREE_BRONZE
  let whole = 0
  let working = 0
  let anodeVolts = CLOSED_CIRCUIT.zinc
  let most: AnodeAlloy = 'zinc'
  for (const anode of anodes) {
    const alloy = trouble.trulyOf(anode)
    const part = anode.weight * exposed(anode) * trouble.contact(anode, at) * film(day, berth, anode)
    whole += anode.weight
    working += part
    if (part > 0.1 * anode.weight && !isMoreActive(most, alloy)) {
      most = alloy
      anodeVolts = CLOSED_CIRCUIT[alloy]
    }
  }
  const begin = Math.min(0.5, UNPOLARISED[berth.water] * meter.unpolarised)
  const left = begin / (begin + (1 - begin) * Math.max(0.01, working / whole))
  return anodeVolts + (free - anodeVolts) * left + strayVolts(day, berth, is)
}

/** A film holds back part of what an anode out of its water could give. */
function film({ trouble, at }: TroubledDay, berth: Berth, anode: TrueAnode): number {
  if (berth.water !== 'fresh' || trouble.trulyOf(anode) !== 'zinc') return 1
  return Math.exp(-(at - anode.fittedAt) / 365)
}

function strayVolts({ trouble, where, at, drive }: TroubledDay, berth: Berth, is: Switches): number {
  const isConnected = is.shorePower === 'connected' && trouble.isOnShorePower(berth)
  const usual = isConnected ? SHORE_SHIFT * Math.log(berth.shoreFactor) : 0
  const { fault } = trouble
  if (fault === null || !trouble.isOn(where, at)) return usual
  if (fault.cause === 'stray-current-onboard' && is.circuits === 'on')
    return usual + STRAY_SHIFT * Math.log(fault.factor)
  if (fault.cause === 'stray-current-shore' && isConnected && drive.boat.shoreHours > 0)
    return usual + STRAY_SHIFT * Math.log(fault.factor)
  return usual
}

/** One visit with a reference electrode: the bond under some switches, now and then a fitting by itself. */
export function readPotentials(
  draws: Draws,
  day: TroubledDay,
  anodes: readonly TrueAnode[],
  known: { readonly meter: Meter; readonly habits: EvidenceHabits; readonly date: string },
): PotentialRow[] {
  const { where } = day
  if (where === 'ashore' || where === 'cruise') return []
  const { meter, habits, date } = known
  const rows: PotentialRow[] = []
  // In water of little chloride an Ag/AgCl electrode is off, and contacts are poor.
  const sd = habits.voltsSd * (where.water === 'salt' ? 1 : 2.5)
  const offset = draws.normal(sd)
  const write = (fitting: string | null, volts: number, is: Switches) => {
    const against = volts + AGAINST[meter.reference] + offset + draws.normal(sd / 2)
    const signed = draws.chance(0.01) ? Math.abs(against) : against
    const minutes = String(rows.length * 5).padStart(2, '0')
    rows.push({
      boat: day.drive.boat.name,
      measured_at: `${date}T10:${minutes}:00.000Z`,
      fitting,
      reference: draws.chance(0.04) ? null : meter.reference,
      volts: Number(signed.toFixed(3)),
      shore_power: is.shorePower,
      circuits: is.circuits,
    })
  }
  for (const is of drawSwitches(draws, where, day.drive.boat.shoreHours > 0)) {
    write(null, bondVolts(day, where, anodes, meter, is), is)
  }
  const is: Switches = { shorePower: where.shorePower ? 'disconnected' : null, circuits: 'off' }
  for (const [fitting, free] of fittingsRead(draws)) {
    const bond = bondVolts(day, where, anodes, meter, is)
    write(fitting, bond + (free - bond) * apartFromBond(draws, day, anodes, fitting), is)
  }
  return rows
}

function drawSwitches(draws: Draws, berth: Berth, hasLead: boolean): Switches[] {
  const shore = berth.shorePower && hasLead
  const first: Switches = {
    shorePower: shore ? draws.pick(['connected', 'disconnected', null] as const) : null,
    circuits: draws.pick(['on', 'off', null] as const),
  }
  const readings = [first]
  if (shore && first.shorePower !== null && draws.chance(0.5))
    readings.push({ ...first, shorePower: first.shorePower === 'connected' ? 'disconnected' : 'connected' })
  if (first.circuits !== null && draws.chance(0.4))
    readings.push({ ...first, circuits: first.circuits === 'on' ? 'off' : 'on' })
  return readings
}

const FITTINGS: readonly (readonly [fitting: string, freeVolts: number])[] = [
  ['propeller', -0.28],
  ['propeller shaft', -0.1],
  ['seacocks', -0.29],
]

function fittingsRead(draws: Draws) {
  return FITTINGS.filter(() => draws.chance(0.3))
}

const FITTING_OF_PLACE: Readonly<Record<string, string>> = {
  shaft: 'propeller shaft',
  'propeller hub': 'propeller',
  rudder: 'propeller shaft',
}

/** How far a fitting is on its way from the bond's potential to its free one. */
function apartFromBond(draws: Draws, { trouble, at }: TroubledDay, anodes: readonly TrueAnode[], fitting: string) {
  const own = draws.between(0, 0.1)
  if (trouble.fault?.cause !== 'no-electrical-contact') return own
  const isNext = anodes.some(
    (anode) => trouble.contact(anode, at) < 0.5 && FITTING_OF_PLACE[anode.place.label] === fitting,
  )
  return isNext ? draws.between(0.3, 0.9) : own
}
