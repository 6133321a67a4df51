import fc from 'fast-check'
import Papa from 'papaparse'
import {
  ALLOYS,
  CIRCUIT_STATES,
  CONDITIONS,
  HULLS,
  REFERENCE_ELECTRODES,
  SHORE_POWER_STATES,
  WATERS,
  YES_NO,
  YES_NO_UNKNOWN,
} from '../../../src/contract/vocabulary.js'
import { GALVANIC_METALS } from '../../../src/engine/reference/galvanic-series.js'

const MS_PER_DAY = 86_400_000

const empty = fc.constant('')
const maybe = (cell: fc.Arbitrary<string>) => fc.oneof(cell, empty)
const word = (words: readonly string[]) => maybe(fc.constantFrom(...words))
const yesNo = word(YES_NO)
/** What people type, and what they paste: quotes, commas, formulas, any script. */
const text = fc
  .oneof(
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 12 }),
    fc.constantFrom(
      'a, b',
      '"quoted"',
      '=1+1',
      "O'Neil",
      'zwei\nZeilen',
      'drei\r\nZeilen',
      'bond',
      '\u00c5sa',
      '\u4e16\u754c',
    ),
  )
  .map((typed) => typed.replaceAll('\0', '').trim())
const name = text.map((typed) => typed.replaceAll(/\p{Cc}/gu, '').trim()).filter((typed) => typed !== '')
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map(String)
const above = (max: number) => fc.double({ min: 1e-6, max, noNaN: true }).map(String)
const dayNumber = fc.integer({ min: 14_000, max: 20_000 })
const day = (number: number) => new Date(number * MS_PER_DAY).toISOString().slice(0, 10)
const instant = fc
  .date({ min: new Date('2001-01-01'), max: new Date('2026-01-01'), noInvalidDate: true })
  .map((at) => at.toISOString())

const few = <T>(cell: fc.Arbitrary<T>, selector: (value: T) => unknown = (value) => value) =>
  fc.uniqueArray(cell, { maxLength: 3, selector })

const fitting = fc.tuple(name, word(GALVANIC_METALS), maybe(number(0, 1e4)), yesNo, yesNo)

/** An anode with weighings that lose mass from one to the next. */
const anode = fc
  .record({
    name,
    details: fc.tuple(maybe(text), word(ALLOYS), maybe(text)),
    fitted: dayNumber,
    isRemoved: fc.boolean(),
    grossMassG: fc.double({ min: 100, max: 20_000, noNaN: true }),
    coreShare: fc.double({ min: 0, max: 0.2, noNaN: true }),
    rest: fc.tuple(maybe(above(900)), maybe(above(900)), maybe(above(900)), yesNo),
    weighings: fc.array(fc.tuple(yesNo, fc.subarray([...CONDITIONS], { maxLength: 3 })), { maxLength: 3 }),
  })
  .map(({ name, details, fitted, isRemoved, grossMassG, coreShare, rest, weighings }) => ({
    name,
    row: [
      name,
      ...details,
      day(fitted),
      isRemoved ? day(fitted + 400) : '',
      `${grossMassG}`,
      `${grossMassG * coreShare}`,
      ...rest,
    ],
    weighings: weighings.map(([cleaned, codes], index) => [
      name,
      day(fitted + (index + 1) * 100),
      'scale',
      String(grossMassG * (0.9 - index * 0.2)),
      '0.5',
      cleaned,
      codes.join(';'),
    ]),
  }))

/** Stays one after another, some with a gap between. */
const stays = fc
  .tuple(
    dayNumber,
    fc.array(fc.tuple(fc.integer({ min: 1, max: 300 }), fc.boolean(), maybe(number(0, 24))), { maxLength: 4 }),
  )
  .map(([first, spans]) => {
    let from = first
    return spans.map(([days, isAshore, hours]) => {
      const row = { from: day(from), to: day(from + days), isAshore, hours }
      from += days + (days % 3)
      return row
    })
  })

const boat = fc.record({
  name,
  details: fc.tuple(
    maybe(text),
    maybe(fc.emailAddress()),
    word(HULLS),
    word(YES_NO_UNKNOWN),
    maybe(fc.constant('1999')),
  ),
  fittings: few(fitting, ([name]) => name),
  anodes: few(anode, ({ name }) => name),
  stays,
  haulOuts: few(fc.tuple(dayNumber, yesNo), ([on]) => on),
  potentials: few(
    fc.tuple(instant, word(REFERENCE_ELECTRODES), number(-3, 3), word(SHORE_POWER_STATES), word(CIRCUIT_STATES)),
    ([at]) => at,
  ),
  ohms: few(fc.tuple(instant, number(0, 1e6)), ([at]) => at),
})

const berth = fc.tuple(
  name,
  maybe(text),
  word(WATERS),
  maybe(number(0, 42)),
  maybe(number(-90, 90)),
  maybe(number(-180, 180)),
  yesNo,
)

const COLUMNS = {
  'berths.csv': 'berth,pontoon,water,salinity_psu,latitude,longitude,shore_power',
  'boats.csv': 'boat,owner_name,owner_email,hull,galvanic_isolator,launched_year',
  'fittings.csv': 'boat,fitting,metal,area_cm2,coated,bonded',
  'anodes.csv':
    'boat,anode,position,alloy,shape,fitted_on,removed_on,gross_mass_g,core_mass_g,length_mm,width_mm,height_mm,bonded',
  'stays.csv': 'boat,from,to,berth,shore_power_hours_per_day',
  'haul-outs.csv': 'boat,on,planned',
  'weighings.csv': 'boat,anode,weighed_on,method,mass_g,resolution_g,cleaned,condition',
  'potentials.csv': 'boat,measured_at,fitting,reference,volts,shore_power,circuits',
  'continuity.csv': 'boat,measured_at,from,to,ohms',
}

/** Files of a small fleet that is sound but otherwise any. */
export const anyFleet = fc
  .record({ berths: few(berth, ([name]) => name), boats: few(boat, ({ name }) => name) })
  .map(({ berths, boats }) => {
    const ofBoats = (rows: (one: (typeof boats)[number]) => string[][]) =>
      boats.flatMap((one) => rows(one).map((cells) => [one.name, ...cells]))
    const berthName = berths[0]?.[0] ?? ''
    const rows: Record<keyof typeof COLUMNS, string[][]> = {
      'berths.csv': berths,
      'boats.csv': ofBoats(({ details }) => [details]),
      'fittings.csv': ofBoats(({ fittings }) => fittings),
      'anodes.csv': ofBoats(({ anodes }) => anodes.map(({ row }) => row)),
      'stays.csv': ofBoats(({ stays }) =>
        stays.map(({ from, to, isAshore, hours }) => [from, to, isAshore ? '' : berthName, hours]),
      ),
      'haul-outs.csv': ofBoats(({ haulOuts }) => haulOuts.map(([on, planned]) => [day(on), planned])),
      'weighings.csv': ofBoats(({ anodes }) => anodes.flatMap(({ weighings }) => weighings)),
      'potentials.csv': ofBoats(({ potentials, fittings }) =>
        potentials.map(([at, ...rest], index) => [at, index === 0 ? (fittings[0]?.[0] ?? '') : '', ...rest]),
      ),
      'continuity.csv': ofBoats(({ ohms, anodes }) =>
        ohms.map(([at, value]) => [at, anodes[0]?.name ?? 'bond', 'bond', value]),
      ),
    }
    return Object.fromEntries(
      Object.entries(rows).map(([file, cells]) => [
        file,
        Papa.unparse([COLUMNS[file as keyof typeof COLUMNS].split(','), ...cells]),
      ]),
    )
  })
