import { dice } from '../random.js'
import { type Anode, anodesAt, mountsOf, type Years } from './anode-lives.js'
import { BOATS, type Boat } from './boats.js'
import { type Continuity, continuityOf } from './continuity.js'
import { type Cell, csvText } from './csv.js'
import { BERTHS } from './harbour.js'
import { type Lift, liftsOf } from './lifts.js'
import { OUTFITS, type Outfit } from './outfits.js'
import { potentialsOf } from './readings.js'
import { staysOf, type VisitorBook } from './stays.js'

type Row = Record<string, Cell>

/** Columns of the files, as the import wants them. */
const COLUMNS = {
  'berths.csv': 'berth,pontoon,water,salinity_psu,latitude,longitude,shore_power',
  'boats.csv': 'boat,owner_name,owner_email,hull,galvanic_isolator,launched_year',
  'fittings.csv': 'boat,fitting,metal,area_cm2,coated,bonded',
  'anodes.csv':
    'boat,anode,position,alloy,shape,fitted_on,removed_on,gross_mass_g,core_mass_g,length_mm,width_mm,height_mm,bonded',
  'stays.csv': 'boat,from,to,berth,shore_power_hours_per_day',
  'weighings.csv':
    'boat,anode,weighed_on,method,mass_g,resolution_g,cleaned,submerged_mass_g,submerged_in,wasted_percent,length_mm,width_mm,height_mm,condition',
  'potentials.csv': 'boat,measured_at,fitting,reference,volts,shore_power,circuits',
  'continuity.csv': 'boat,measured_at,from,to,ohms',
  'haul-outs.csv': 'boat,on,relaunched_on,planned',
} as const

type FileName = keyof typeof COLUMNS

/**
 * The demo fleet as the files of an import, with five years of history that end on a given day.
 *
 * @param today ISO date; all else counts back from it, so the demo is as alive on any day. The same day gives the same files.
 * @returns file name → CSV text
 * @throws RangeError if today is not an ISO date
 * @example generateFleet('2031-04-18').get('boats.csv')
 */
export function generateFleet(today: string): Map<string, string> {
  const visitors: VisitorBook = []
  const lives = BOATS.map((boat) => lifeOf(boat, today, visitors))
  const rows: Record<FileName, Row[]> = {
    'berths.csv': BERTHS.map((b) => ({ ...b, salinity_psu: b.salinityPsu, shore_power: b.shorePower })),
    'boats.csv': BOATS.map(boatRow),
    'fittings.csv': BOATS.flatMap(fittingRows),
    'anodes.csv': lives.flatMap((life) => life.anodes.map(anodeRow)),
    'stays.csv': lives.flatMap(stayRows),
    'weighings.csv': lives.flatMap((life) => life.anodes.flatMap(weighingRows)),
    'potentials.csv': BOATS.flatMap((boat) => potentialsOf(boat, today).map(potentialRow)),
    'continuity.csv': lives.flatMap((life) => continuityOf(life.boat, life.anodes, today).map(continuityRow)),
    'haul-outs.csv': lives.flatMap(haulOutRows),
  }
  const names = Object.keys(COLUMNS) as FileName[]
  return new Map(names.map((name) => [name, csvText(COLUMNS[name].split(','), rows[name])]))
}

interface Life extends Years {
  planned: Lift | undefined
  anodes: readonly Anode[]
}

function lifeOf(boat: Boat, today: string, visitors: VisitorBook): Life {
  const { done, planned } = liftsOf(boat, today)
  const years: Years = { boat, lifts: done, stays: staysOf(boat, done, today, visitors), today }
  return { ...years, planned, anodes: mountsOf(boat).flatMap((mount) => anodesAt(mount, years)) }
}

function boatRow(boat: Boat): Row {
  return {
    boat: boat.boat,
    owner_name: boat.owner,
    owner_email: boat.email,
    hull: boat.hull,
    galvanic_isolator: boat.galvanicIsolator,
    launched_year: boat.launchedYear,
  }
}

function fittingRows(boat: Boat): Row[] {
  const outfit: Outfit = OUTFITS[boat.outfit]
  const size = dice(boat.boat, 'areas').between(0.88, 1.14)
  return outfit.fittings.map(({ fitting, metal, areaCm2, coated, bonded }) => {
    const step = areaCm2 > 10_000 ? 500 : 10
    return { boat: boat.boat, fitting, metal, area_cm2: Math.round((areaCm2 * size) / step) * step, coated, bonded }
  })
}

function anodeRow(anode: Anode): Row {
  const { mount } = anode
  return {
    boat: anode.boat,
    anode: anode.anode,
    position: mount.position,
    alloy: anode.declared,
    shape: mount.shape,
    fitted_on: anode.fittedOn,
    removed_on: anode.removedOn,
    gross_mass_g: anode.grossG,
    core_mass_g: mount.coreMassG,
    length_mm: mount.lengthMm,
    width_mm: mount.widthMm,
    height_mm: mount.heightMm,
    bonded: mount.bonded,
  }
}

function stayRows({ boat, stays }: Life): Row[] {
  return stays.map((stay) => ({
    boat: boat.boat,
    from: stay.from,
    to: stay.to,
    berth: stay.berth,
    shore_power_hours_per_day: stay.shoreHours,
  }))
}

function weighingRows(anode: Anode): Row[] {
  return anode.weighings.map((weighing) => ({
    boat: anode.boat,
    anode: anode.anode,
    weighed_on: weighing.on,
    method: weighing.method,
    mass_g: weighing.massG,
    resolution_g: weighing.resolutionG,
    cleaned: weighing.cleaned,
    submerged_mass_g: weighing.submergedMassG,
    submerged_in: weighing.submergedIn,
    wasted_percent: weighing.wastedPercent,
    length_mm: weighing.size?.lengthMm,
    width_mm: weighing.size?.widthMm,
    height_mm: weighing.size?.heightMm,
    condition: weighing.conditions.join(';'),
  }))
}

function potentialRow(reading: ReturnType<typeof potentialsOf>[number]): Row {
  return { ...reading, measured_at: reading.measuredAt, shore_power: reading.shorePower }
}

function continuityRow(reading: Continuity): Row {
  return { ...reading, measured_at: reading.measuredAt }
}

/** The newcomer's first day is no haul-out of this harbour. */
function haulOutRows({ boat, lifts, planned, today }: Life): Row[] {
  const known = lifts.filter((lift) => lift.relaunchOn > lift.on)
  const done = known.map((lift) => ({
    boat: boat.boat,
    on: lift.on,
    relaunched_on: lift.relaunchOn <= today ? lift.relaunchOn : undefined,
    planned: false,
  }))
  return planned === undefined ? done : [...done, { boat: boat.boat, on: planned.on, planned: true }]
}
