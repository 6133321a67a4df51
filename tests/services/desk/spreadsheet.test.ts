import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { spreadsheet } from '../../../src/services/desk/spreadsheet.js'

describe('a table for a spreadsheet', () => {
  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', ' =1', '\r=1'])('writes %j so that nothing is computed', (text) => {
    expect(parse(spreadsheet(['a'], [[text]]))[1]).toEqual([`'${text}`])
  })

  it('leaves numbers, also negative ones, and other texts as they are', () => {
    expect(spreadsheet(['a', 'b', 'c'], [[-1.5, 'Ill wind; 3 = 3', null]])).toBe('a,b,c\r\n-1.5,Ill wind; 3 = 3,\r\n')
  })

  it('reads back cell by cell, whatever the texts, but for the apostrophes', () => {
    const rows = fc.array(fc.array(fc.string({ unit: 'binary' }), { minLength: 2, maxLength: 2 }), { minLength: 1 })
    fc.assert(
      fc.property(rows, (cells) => {
        const [, ...read] = parse(spreadsheet(['a', 'b'], cells))
        const bare = (text: string) => text.replace(/^'(?=\s*[=+\-@\t\r])/, '')
        expect(read.map((row) => row.map(bare))).toEqual(cells.map((row) => row.map(bare)))
      }),
    )
  })
})
