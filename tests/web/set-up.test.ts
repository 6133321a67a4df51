import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ServiceProblem } from '../../src/web/api/problem.js'
import { freeName, placeLabel } from '../../src/web/pages/set-up/anode-place.js'
import { berthNames } from '../../src/web/pages/set-up/berth-names.js'
import { mendSheet, readSheet, writeSheet } from '../../src/web/pages/set-up/csv-sheet.js'
import { type AnodeEntry, anodeFiles, berthFiles, boatFiles } from '../../src/web/pages/set-up/form-files.js'
import { cellErrorOf, wrongByColumn } from '../../src/web/pages/set-up/import-errors.js'

describe('a row of berths in a few words', () => {
  it.each([
    ['A1–A24', 24, 'A1', 'A24'],
    ['A1-24', 24, 'A1', 'A24'],
    ['A 01 — A 12', 12, 'A 01', 'A 12'],
    ['098–101', 4, '098', '101'],
    ['A1–A3, A2–A5', 5, 'A1', 'A5'],
    ['Fuel dock\nA1', 2, 'Fuel dock', 'A1'],
    ['A-1', 1, 'A-1', 'A-1'],
    ['A7–A7', 1, 'A7', 'A7'],
  ])('%s makes %i berths', (text, count, first, last) => {
    const { names, wrong } = berthNames(text)
    expect([names.length, names[0], names.at(-1)]).toEqual([count, first, last])
    expect(wrong).toEqual([])
  })

  it.each(['A24–A1', 'A1–B9', 'A1–A9999999'])('%s makes none and is told', (text) => {
    expect(berthNames(`${text}, B1`)).toEqual({ names: ['B1'], wrong: [text] })
  })

  it('makes each number between its ends once, whatever stands before them', () => {
    const prefix = fc.constantFrom('A', 'B ', 'North ', '')
    fc.assert(
      fc.property(prefix, fc.nat(900), fc.nat(90), (before, from, more) => {
        const { names } = berthNames(`${before}${from}–${before}${from + more}`)
        expect(names).toEqual(Array.from({ length: more + 1 }, (_, index) => `${before}${from + index}`.trim()))
      }),
    )
  })
})

describe('a sheet of cells', () => {
  it('is read with the lines that its rows begin on, quotes and blank lines counted', () => {
    const sheet = readSheet('\ufeffboat,note\r\nWren,"two\nlines, ""quoted"""\r\n\r\nHeron,\n')
    expect(sheet.header).toEqual(['boat', 'note'])
    expect(sheet.rows).toEqual([
      { line: 2, cells: ['Wren', 'two\nlines, "quoted"'] },
      { line: 5, cells: ['Heron', ''] },
    ])
  })

  it('reads back what it wrote, whatever the cells hold', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '\r\n', ' ', 'é', '🚤') })
    const rows = fc.array(fc.tuple(cell, cell, cell), { maxLength: 6 })
    fc.assert(
      fc.property(rows, (cells) => {
        const sheet = { header: ['a', 'b', 'c'], rows: cells.map((row) => ({ line: 0, cells: row })) }
        expect(readSheet(writeSheet(sheet)).rows.map((row) => row.cells)).toEqual(cells)
      }),
    )
  })

  it('ends, also where a quote is never closed', () => {
    expect(readSheet('boat\n"Wren\nHeron').rows).toEqual([{ line: 2, cells: ['Wren\nHeron'] }])
    expect(readSheet('').rows).toEqual([])
    expect(readSheet('a,b\n"x"y,z').rows[0]?.cells).toEqual(['xy', 'z'])
  })

  it('is mended in the cells named and nowhere else, also where a row was too short', () => {
    const sheet = readSheet('boat,Hull,launched_year\nWren,plastic,1999\nHeron\n')
    const mended = mendSheet(sheet, [
      { line: 2, column: 'hull', value: 'grp' },
      { line: 3, column: 'launched_year', value: '2001' },
      { line: 9, column: 'hull', value: 'wood' },
    ])
    expect(writeSheet(mended)).toBe('boat,Hull,launched_year\r\nWren,grp,1999\r\nHeron,,2001\r\n')
  })
})

describe('where an error lies', () => {
  it.each([
    ['/weighings.csv/17/mass_g', { file: 'weighings.csv', line: 17, column: 'mass_g' }],
    ['/boats.csv/3', { file: 'boats.csv', line: 3, column: null }],
    ['/boats.csv', { file: 'boats.csv', line: null, column: null }],
    ['/boats.csv/hull', { file: 'boats.csv', line: null, column: 'hull' }],
    ['/my%20boats~1old.csv', { file: 'my boats/old.csv', line: null, column: null }],
  ])('%s', (pointer, place) => {
    expect(cellErrorOf({ pointer, detail: 'Why.' })).toEqual({ ...place, detail: 'Why.' })
  })
})

describe('what stands at the fields of a form', () => {
  it('is each column’s reasons, and nothing where the row or the request as a whole was refused', () => {
    const fields = [
      { pointer: '/anodes.csv/2/gross_mass_g', detail: 'One.' },
      { pointer: '/anodes.csv/2/gross_mass_g', detail: 'Two.' },
      { pointer: '/anodes.csv/2/boat', detail: 'Three.' },
      { pointer: '/anodes.csv/2', detail: 'Four.' },
    ]
    expect(wrongByColumn(new ServiceProblem(422, 'No.', undefined, fields))).toEqual({
      gross_mass_g: 'One. Two.',
      boat: 'Three.',
    })
    expect(wrongByColumn(new Error('No network.'))).toEqual({})
    expect(wrongByColumn(null)).toEqual({})
  })
})

describe('where an anode sits', () => {
  it.each([
    ['hull', ' port aft ', 'hull port aft'],
    ['shaft', '', 'shaft'],
    ['other', 'keel bolt', 'keel bolt'],
    ['other', ' ', 'other'],
    ['', '', ''],
  ] as const)('of kind "%s" at "%s" is labelled "%s"', (kind, where, label) => {
    expect(placeLabel(kind, where)).toBe(label)
  })

  it('gives a name that no anode of the boat has yet', () => {
    expect(freeName('shaft', [])).toBe('shaft')
    expect(freeName('shaft', ['Shaft', 'shaft 2', 'hull'])).toBe('shaft 3')
    expect(freeName('', [''])).toBe('')
  })
})

describe('what the forms load', () => {
  it('is a row for each berth, and a boat with her stay', () => {
    expect(
      berthFiles({ names: ['A1', 'A2'], pontoon: 'A, north', water: 'salt', salinityPsu: '33', shorePower: 'yes' }),
    ).toEqual({
      'berths.csv':
        'berth,pontoon,water,salinity_psu,shore_power\r\nA1,"A, north",salt,33,yes\r\nA2,"A, north",salt,33,yes\r\n',
    })
    const boat = { name: 'Wren', ownerName: '', ownerEmail: '', hull: 'grp', galvanicIsolator: '' } as const
    expect(boatFiles({ ...boat, berth: '', since: '2031-04-18' })).toEqual({
      'boats.csv': 'boat,owner_name,owner_email,hull,galvanic_isolator\r\nWren,,,grp,\r\n',
    })
    expect(boatFiles({ ...boat, berth: 'A1', since: '2031-04-18' })['stays.csv']).toBe(
      'boat,from,berth\r\nWren,2031-04-18,A1\r\n',
    )
  })

  it('is an anode, its masses in grams whatever they were typed in', () => {
    const typed: AnodeEntry = {
      boat: 'Wren',
      name: 'port',
      kind: 'hull',
      where: 'port',
      alloy: 'zinc',
      shape: 'plate',
      fittedOn: '2031-04-18',
      grossMass: '1,25',
      coreMass: '0',
      lengthMm: '70',
      widthMm: ' ',
      heightMm: '',
    }
    const header = 'boat,anode,position,alloy,shape,fitted_on,gross_mass_g,core_mass_g,length_mm,width_mm,height_mm'
    expect(anodeFiles(typed, 'kg')).toEqual({
      'anodes.csv': `${header}\r\nWren,port,hull port,zinc,plate,2031-04-18,1250,0,70,,\r\n`,
    })
    // 1 lb = 453.59237 g by definition.
    const heavy = anodeFiles({ ...typed, grossMass: '1', coreMass: 'two' }, 'lb')
    expect(heavy['anodes.csv']).toContain(',453.59237,two,')
  })
})
