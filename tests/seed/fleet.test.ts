import { describe, expect, it } from 'vitest'
import { generateFleet } from '../../seed/scenario/fleet.js'
import { photosFor } from '../../seed/scenario/photos.js'
import { type Column, CSV_FILES } from '../../src/contract/csv/index.js'
import { GALVANIC_METALS } from '../../src/engine/reference/galvanic-series.js'
import { byAnode, fleetOn, grouped, netMass, type Row, rowsOn } from './fleet-files.js'

// Columns and natural keys as the import's contract has them.
const FILES: Readonly<Record<string, { columns: string; key: string }>> = {
  'berths.csv': { columns: 'berth,pontoon,water,salinity_psu,latitude,longitude,shore_power', key: 'berth' },
  'boats.csv': { columns: 'boat,owner_name,owner_email,hull,galvanic_isolator,launched_year', key: 'boat' },
  'fittings.csv': { columns: 'boat,fitting,metal,area_cm2,coated,bonded', key: 'boat,fitting' },
  'anodes.csv': {
    columns:
      'boat,anode,position,alloy,shape,fitted_on,removed_on,gross_mass_g,core_mass_g,length_mm,width_mm,height_mm,bonded',
    key: 'boat,anode',
  },
  'stays.csv': { columns: 'boat,from,to,berth,shore_power_hours_per_day', key: 'boat,from' },
  'weighings.csv': {
    columns:
      'boat,anode,weighed_on,method,mass_g,resolution_g,cleaned,submerged_mass_g,submerged_in,wasted_percent,length_mm,width_mm,height_mm,condition',
    key: 'boat,anode,weighed_on',
  },
  'potentials.csv': {
    columns: 'boat,measured_at,fitting,reference,volts,shore_power,circuits',
    key: 'boat,measured_at,fitting',
  },
  'continuity.csv': { columns: 'boat,measured_at,from,to,ohms', key: 'boat,measured_at,from,to' },
  'haul-outs.csv': { columns: 'boat,on,relaunched_on,planned', key: 'boat,on' },
}
const POSITIONS = 'shaft,propeller hub,hull,rudder,saildrive leg,skeg,trim tab,bow thruster,heat exchanger,other'.split(
  ',',
)
const CONDITIONS =
  'even,bright,sharp-edged,crusted,painted,loose,broken,missing,undercut,pitted,pink,scaled,paint-blistered'.split(',')

// Winter with half the fleet ashore, a leap day, midsummer, and the first days of a year.
const DAYS = ['2026-11-25', '2028-02-29', '2029-07-15', '2031-01-02']

it('is the same fleet each time and refuses what is no date', () => {
  expect([...generateFleet('2029-07-15')]).toEqual([...fleetOn('2029-07-15')])
  expect(() => generateFleet('15.07.2029')).toThrow(RangeError)
})

it('writes cells that the import can read', () => {
  for (const [file, { columns }] of Object.entries(CSV_FILES)) {
    const cells = Object.entries(columns as Record<string, Column<unknown>>)
    for (const row of rowsOn('2026-11-25', file)) {
      const refused = cells.filter(([name, cell]) => row[name] !== '' && !cell.read.safeParse(row[name]!).success)
      const missing = cells.filter(([name, cell]) => row[name] === '' && cell.whenEmpty === undefined)
      expect([...refused, ...missing].map(([name]) => `${file} ${name}: ${row[name]}`)).toEqual([])
    }
  }
})

describe.each(DAYS)('the fleet on %s', (today) => {
  const rows = Object.fromEntries(Object.keys(FILES).map((file) => [file, rowsOn(today, file)]))
  const anodes = rows['anodes.csv']!
  const weighings = byAnode(rows['weighings.csv']!)
  const names = (file: string, column: string) => new Set(rows[file]!.map((row) => row[column]!))

  it('has the nine files with their columns, and unique natural keys', () => {
    expect([...fleetOn(today).keys()].sort()).toEqual(Object.keys(FILES).sort())
    for (const [file, { columns, key }] of Object.entries(FILES)) {
      expect(fleetOn(today).get(file)!.split('\n')[0]).toBe(columns)
      const keys = rows[file]!.map((row) =>
        key
          .split(',')
          .map((column) => row[column])
          .join('|'),
      )
      expect(new Set(keys).size, file).toBe(keys.length)
    }
  })

  it('names only berths, boats, fittings, anodes and metals that exist', () => {
    expect(rows['boats.csv']).toHaveLength(40)
    for (const file of Object.keys(FILES).filter((name) => name !== 'berths.csv')) {
      const boats = names('boats.csv', 'boat')
      expect(rows[file]!.filter((row) => !boats.has(row.boat!))).toEqual([])
    }
    for (const stay of rows['stays.csv']!)
      if (stay.berth !== '') expect(names('berths.csv', 'berth')).toContain(stay.berth)
    const fittings = new Set(rows['fittings.csv']!.map((row) => `${row.boat}|${row.fitting}`))
    for (const row of rows['potentials.csv']!)
      if (row.fitting !== '') expect(fittings).toContain(`${row.boat}|${row.fitting}`)
    const ends = new Set([...fittings, ...anodes.map((row) => `${row.boat}|${row.anode}`)])
    for (const row of rows['continuity.csv']!) expect(ends).toContain(`${row.boat}|${row.from}`)
    for (const row of rows['fittings.csv']!) expect(GALVANIC_METALS).toContain(row.metal)
    for (const row of anodes) expect(POSITIONS).toContain(row.position)
  })

  it('knows no future but planned haul-outs and the ends of stays', () => {
    const past: readonly [string, string][] = [
      ['anodes.csv', 'fitted_on'],
      ['anodes.csv', 'removed_on'],
      ['stays.csv', 'from'],
      ['weighings.csv', 'weighed_on'],
      ['potentials.csv', 'measured_at'],
      ['continuity.csv', 'measured_at'],
      ['haul-outs.csv', 'relaunched_on'],
    ]
    for (const [file, column] of past) {
      const late = rows[file]!.filter((row) => row[column]!.slice(0, 10) > today)
      expect(late, `${file} ${column}`).toEqual([])
    }
    for (const row of rows['haul-outs.csv']!) {
      if (row.on !== today) expect(row.on! > today).toBe(row.planned === 'yes')
    }
    expect(rows['haul-outs.csv']!.filter((row) => row.on === today && row.planned === 'yes')).not.toEqual([])
    expect(rows['haul-outs.csv']!.filter((row) => row.planned === 'yes').length).toBeGreaterThan(15)
  })

  it('has no boat in two places, and no berth with two boats', () => {
    for (const column of ['boat', 'berth']) {
      const groups = grouped(
        rows['stays.csv']!.filter((row) => row[column] !== ''),
        (row) => row[column]!,
      )
      for (const stays of groups.values()) expectApart(stays)
    }
  })

  it('weighs each anode within its life, never below its core and never heavier than before', () => {
    for (const anode of anodes) {
      let last = Number(anode.gross_mass_g)
      for (const weighing of weighings.get(`${anode.boat}|${anode.anode}`) ?? []) {
        expect(weighing.weighed_on! > anode.fitted_on!).toBe(true)
        expect(weighing.weighed_on! <= (anode.removed_on || today)).toBe(true)
        for (const code of weighing.condition!.split(';')) if (code !== '') expect(CONDITIONS).toContain(code)
        if (weighing.method !== 'scale') continue
        expect(netMass(weighing.mass_g, anode)).toBeGreaterThanOrEqual(0)
        expect(Number(weighing.mass_g)).toBeLessThanOrEqual(last + Number(weighing.resolution_g))
        last = Number(weighing.mass_g)
      }
    }
  })

  it('gives each method its own columns', () => {
    const sizes = ['length_mm', 'width_mm', 'height_mm']
    for (const row of rows['weighings.csv']!) {
      expect(row.mass_g !== '').toBe(row.method === 'scale')
      expect(row.wasted_percent !== '').toBe(row.method === 'visual')
      for (const size of sizes) expect(row[size] !== '').toBe(row.method === 'dimensions')
    }
    const methods = grouped(rows['weighings.csv']!, (row) => row.method!)
    expect(methods.get('scale')!.length).toBeGreaterThan(rows['weighings.csv']!.length / 2)
    expect(methods.get('dimensions')!.length).toBeGreaterThan(20)
  })

  it('fits each successor on the day its predecessor is removed', () => {
    const mounts = grouped(anodes, (row) => `${row.boat}|${row.anode!.replace(/ \d+$/, '')}`)
    for (const line of mounts.values()) {
      expect(line.slice(1).map((row) => row.fitted_on)).toEqual(line.slice(0, -1).map((row) => row.removed_on))
      expect(line.at(-1)!.removed_on).toBe('')
    }
  })

  it('orders about 60 pictures of weighings that exist', () => {
    const orders = photosFor(fleetOn(today))
    expect(orders.length).toBeGreaterThanOrEqual(50)
    expect(orders.length).toBeLessThanOrEqual(70)
    for (const order of orders) {
      const row = weighings.get(`${order.boat}|${order.anode}`)!.find((w) => w.weighed_on === order.weighedOn)!
      expect(order.conditions.join(';')).toBe(row.condition)
    }
  })
})

/** Half-open spans [from, to) in a row must not overlap; an open one is the last. */
function expectApart(stays: readonly Row[]): void {
  const sorted = stays.toSorted((a, b) => a.from!.localeCompare(b.from!))
  for (const [index, stay] of sorted.entries()) {
    const next = sorted[index + 1]
    if (stay.to !== '') expect(stay.to! > stay.from!).toBe(true)
    if (next !== undefined) expect(stay.to !== '' && stay.to! <= next.from!, `${stay.boat} ${stay.from}`).toBe(true)
  }
}
