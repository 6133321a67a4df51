import { describe, expect, it } from 'vitest'
import { GALVANIC_SERIES } from '../../src/engine/reference/galvanic-series.js'
import { coupleAnswer, EXAMPLE, withMetal } from '../../src/web/pages/galvanic/couple-draft.js'
import { sayAreaRatio, sayAudit, sayGrades, sayList, sayVolts } from '../../src/web/pages/galvanic/galvanic-words.js'
import { seriesData } from '../../src/web/pages/galvanic/series-data.js'
import { seriesLayout } from '../../src/web/pages/galvanic/series-layout.js'
import { sayCell, shownTable } from '../../src/web/pages/reference/shown-table.js'

const SHAFT = { metal: 'stainless-316-passive', label: 'shaft, 1,900 cm²', protectedAtV: -0.75 } as const
const wanted = { marked: [SHAFT], anodes: ['zinc'], scale: 'ag-agcl-seawater', isWhole: true } as const

describe('the chart of the series', () => {
  // Australasian Corrosion Association: 316 passive −0.10 to 0 V calomel. Int. J. Corrosion 2010, Table 2 and EN 12473: calomel
  // +0.241, silver/silver chloride in seawater +0.250 V hydrogen, so that the latter shows 0.009 V less.
  it('has every metal on the chosen scale, the noblest on top', () => {
    const { bars } = seriesData(wanted)
    expect(bars.map(({ metal }) => metal)).toEqual(GALVANIC_SERIES.map(({ key }) => key))
    const shaft = bars.find(({ metal }) => metal === SHAFT.metal)!
    expect([shaft.low, shaft.high]).toEqual([expect.closeTo(-0.109, 9), expect.closeTo(-0.009, 9)])
    const calomel = seriesData({ ...wanted, scale: 'sce' }).bars.find(({ metal }) => metal === SHAFT.metal)!
    expect([calomel.low, calomel.high]).toEqual([-0.1, 0])
  })

  it('marks metals with what the least active anode has in hand for them', () => {
    const { bars, anodes } = seriesData({ ...wanted, anodes: ['aluminium', 'zinc'] })
    const marked = bars.filter(({ mark }) => mark !== null)
    expect(marked).toMatchObject([{ mark: SHAFT.label, margin: { anode: -1, protectedAt: -0.75 } }])
    expect(anodes.map(({ volts }) => volts)).toEqual([-1.05, -1])
    expect(seriesData({ ...wanted, anodes: [] }).bars.every(({ margin }) => margin === null)).toBe(true)
  })

  it('shows the marked metals alone with what becomes of them without their film', () => {
    const { bars, domain } = seriesData({ ...wanted, isWhole: false })
    expect(bars.map(({ metal, isActive }) => [metal, isActive])).toEqual([
      ['stainless-316-passive', false],
      ['stainless-316-active', true],
    ])
    expect(domain[0]).toBeLessThan(-1)
  })

  it.each([300, 358, 560, 1100])('lays its rows out one under the other on %d px', (width) => {
    const { bars, height } = seriesLayout(seriesData(wanted), width)
    bars.forEach((bar, at) => {
      expect(bar.top).toBeLessThan(bar.bottom)
      const next = bars[at + 1]
      if (next) expect(Math.max(bar.bottom, bar.mark === null ? 0 : bar.markAt)).toBeLessThan(next.bottom)
    })
    expect(bars.at(-1)!.bottom).toBeLessThan(height)
  })
})

describe('the checker', () => {
  it('gives each pair, the widest apart first, with commas for points and unknown areas', () => {
    const metals = [
      { id: 1, metal: 'zinc', areaCm2: '12,5' },
      { id: 2, metal: 'copper', areaCm2: '' },
      { id: 3, metal: 'mild-steel', areaCm2: '100' },
    ] as const
    const { pairs, problems } = coupleAnswer({ metals, water: 'salt' })
    expect(problems.size).toBe(0)
    expect(pairs.map(({ cathode, anode }) => `${cathode.metal} ${anode.metal}`)).toEqual([
      'copper zinc',
      'mild-steel zinc',
      'copper mild-steel',
    ])
    expect(pairs[1]!.areaRatio).toBe(8)
    expect(pairs[0]!.grade).toBe('unknown')
  })

  it.each(['0', '-4', 'much', '1e5'])('tells of an area of %s at its row, and goes on with the others', (areaCm2) => {
    const [first, ...others] = EXAMPLE.metals
    const { pairs, problems } = coupleAnswer({ ...EXAMPLE, metals: [{ ...first!, areaCm2 }, ...others] })
    expect([...problems.keys()]).toEqual([first!.id])
    expect(pairs).toHaveLength(1)
  })

  it('numbers a new row past all others', () => {
    expect(withMetal(EXAMPLE.metals).at(-1)!.id).toBe(4)
  })
})

describe('what is said', () => {
  it('of figures', () => {
    expect([sayAreaRatio(20), sayAreaRatio(0.05), sayAreaRatio(1), sayAreaRatio(null)]).toEqual([
      '20 : 1',
      '1 : 20',
      '1 : 1',
      'not known',
    ])
    expect(sayVolts(-0.9)).toBe('−0.90')
    expect(sayList(['a', 'b', 'c'])).toBe('a, b and c')
    expect(sayGrades(['fair', 'severe', 'fair'])).toBe('3 pairs: 1 severe, 2 fair.')
  })

  it('of a boat: the anodes, then the pairs', () => {
    const protection = {
      alloy: 'zinc',
      isFitted: true,
      anodeV: -1,
      suitsWater: 'yes',
      verdict: 'protects',
      reason: '',
      metals: [],
    } as const
    const metal = { metal: 'copper', areaCm2: 1, exposedCm2: 1, fittings: ['a'], connection: 'connected' } as const
    const audit = {
      boat: 'Wren',
      berth: null,
      water: null,
      hull: null,
      overprotection: [],
      potentials: [],
      notes: [],
      questions: [],
      sources: [],
    }
    const say = (pairs: never[]) =>
      sayAudit({
        ...audit,
        pairs,
        protection: [protection],
        metals: [metal].map((each) => ({ ...each, fittings: [...each.fittings] })),
      } as never)
    expect(say([])).toBe('Zinc anodes can protect every metal joined to them. No two metals are known to be joined.')
    expect(say([{ grade: 'severe' }, { grade: 'fair' }, { grade: 'unknown' }] as never[])).toBe(
      'Zinc anodes can protect every metal joined to them. Without anodes 1 of the 3 pairs of metals would be poor or severe. 1 cannot be graded yet.',
    )
    expect(sayAudit({ ...audit, pairs: [], protection: [], metals: [] })).toMatch(/^No metal is on record/)
  })
})

describe('a reference table as it is shown', () => {
  const head = { name: 'x', title: 'X', description: '', rows: 1 }
  const column = (key: string) => ({ key, label: key, unit: null })

  it('leaves keys out where rows have names, and numbers its sources', () => {
    const row = { values: { key: 'zinc', name: 'Zinc', low: -1.03 }, status: 'verified', sources: ['b', 'a'], note: '' }
    const sources = ['a', 'b'].map((key) => ({ key, title: key, read: 'read' }))
    const table = { ...head, columns: ['key', 'name', 'low'].map(column), items: [row], sources }
    const { columns, rows } = shownTable(table)
    expect(columns.map(({ key }) => key)).toEqual(['name', 'low'])
    expect(rows[0]!.cells).toEqual(['Zinc', '−1.03'])
    expect(rows[0]!.sources.map(({ place }) => place)).toEqual([2, 1])
    expect(shownTable({ ...table, columns: ['key', 'low'].map(column) }).columns).toHaveLength(2)
  })

  it.each([
    [null, ''],
    [true, 'yes'],
    [[9, 18], '9 to 18'],
    [[1, 2, 3], '1, 2, 3'],
    [[0.97, 0.03], '0.97, 0.03'],
    [['Look.', 'Measure.'], 'Look. Measure.'],
    [1e-9, '1e−9'],
  ] as const)('says %j as %s', (cell, said) => {
    expect(sayCell(cell as never, said.includes(' to '))).toBe(said)
  })
})
