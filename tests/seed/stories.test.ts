import { describe, expect, it } from 'vitest'
import { daysBetween } from '../../seed/scenario/calendar.js'
import { metalDensityOf, waterDensityOf } from '../../src/engine/electrochemistry/density.js'
import { metalDensity } from '../../src/engine/reference/metal-densities.js'
import { byAnode, netMass, type Row, rowsOn } from './fleet-files.js'

// The stories must hold on whatever day the demo is started.
describe.each(['2026-11-25', '2027-09-10', '2029-02-20', '2030-06-01'])('what the harbour tells on %s', (today) => {
  const anodes = rowsOn(today, 'anodes.csv')
  const weighings = byAnode(rowsOn(today, 'weighings.csv'))

  const of = (boat: string, mount: string): Row[] =>
    anodes.filter((row) => row.boat === boat && row.anode!.replace(/ \d+$/, '') === mount)

  const wasOnScale = (anode: Row): boolean =>
    weighings.get(`${anode.boat}|${anode.anode}`)?.some((row) => row.method === 'scale') ?? false

  /** Consumed fraction at the last time on the scale, with the days since the fitting. */
  function wornAt(anode: Row): { consumed: number; days: number } {
    const last = weighings.get(`${anode.boat}|${anode.anode}`)?.findLast((row) => row.method === 'scale')
    if (last === undefined) throw new Error(`${anode.boat} ${anode.anode} was never on a scale`)
    const consumed = 1 - netMass(last.mass_g, anode) / netMass(anode.gross_mass_g, anode)
    return { consumed, days: daysBetween(anode.fitted_on!, last.weighed_on!) }
  }

  // Common practice: a right anode in salt water is half gone after about a year; one spent in five months is abnormal.
  it('wastes a usual zinc anode in salt water by half in about a year', () => {
    const salt = anodes.filter((row) => row.alloy === 'zinc' && row.removed_on !== '' && row.position === 'shaft')
    const perYear = salt
      .filter((row) => weighings.get(`${row.boat}|${row.anode}`)?.at(-1)?.method === 'scale')
      .map(wornAt)
      .filter(({ days }) => days > 200)
      .map(({ consumed, days }) => (consumed / days) * 365)
      .sort((a, b) => a - b)
    expect(perYear[Math.floor(perYear.length / 2)]).toBeGreaterThan(0.35)
    expect(perYear[Math.floor(perYear.length / 2)]).toBeLessThan(0.75)
  })

  it('spends the bonded anodes of Second Kettle in five months, and spares the one apart', () => {
    for (const mount of ['shaft port', 'shaft starboard', 'hull', 'rudder', 'trim tab']) {
      const [spent] = of('Second Kettle', mount).slice(-2)
      const { consumed, days } = wornAt(spent!)
      expect(days).toBe(153)
      expect(consumed).toBeGreaterThan(0.75)
      const before = of('Second Kettle', mount).at(-3)!
      expect(daysBetween(before.fitted_on!, before.removed_on!)).toBeGreaterThan(350)
    }
    expect(wornAt(of('Second Kettle', 'bow thruster').at(-2)!).consumed).toBeLessThan(0.5)
  })

  it('leaves the painted collar of Plover’s Errand nearly whole beside worn neighbours', () => {
    const collar = of("Plover's Errand", 'shaft').at(-1)!
    expect(wornAt(collar).consumed).toBeLessThan(0.08)
    expect(weighings.get(`${collar.boat}|${collar.anode}`)!.every((row) => row.condition!.includes('painted'))).toBe(
      true,
    )
    const neighbours = ['hull', 'propeller hub'].flatMap((mount) =>
      of("Plover's Errand", mount).filter(wasOnScale).slice(-1),
    )
    expect(neighbours).toHaveLength(2)
    for (const neighbour of neighbours) expect(wornAt(neighbour).consumed).toBeGreaterThan(0.12)
    const ohms = rowsOn(today, 'continuity.csv').find((row) => row.from === collar.anode && row.boat === collar.boat)!
    expect(Number(ohms.ohms)).toBeGreaterThan(10)
  })

  it('crusts over the zinc that Fennimore carried into the fresh basin', () => {
    const shaft = of('Fennimore', 'shaft').at(-1)!
    expect(shaft.alloy).toBe('zinc')
    expect(weighings.get(`${shaft.boat}|${shaft.anode}`)!.at(-1)!.condition).toBe('crusted')
    expect(wornAt(of('Fennimore', 'hull').at(-1)!).consumed).toBeLessThan(0.1)
  })

  it('hurries the three of Gannet, whose potential moves with the shore lead', () => {
    const potentials = rowsOn(today, 'potentials.csv')
    for (const boat of ['Cinder Gull', 'Mistral Penny', 'Pewter Moon']) {
      const latest = potentials.filter((row) => row.boat === boat && row.fitting === '').slice(-2)
      expect(latest.map((row) => row.shore_power)).toEqual(['connected', 'disconnected'])
      expect(Number(latest[0]!.volts) - Number(latest[1]!.volts)).toBeGreaterThan(0.1)
    }
  })

  it('has lost the minus sign of one reading of Pewter Moon’s shaft, at the older survey alone', () => {
    const shaft = rowsOn(today, 'potentials.csv').filter((row) => row.boat === 'Pewter Moon' && row.fitting === 'shaft')
    expect(shaft.map((row) => Math.sign(Number(row.volts)))).toEqual([1, -1])
  })

  it('puts magnesium on the wooden Windfall Annie in salt water', () => {
    expect(of('Windfall Annie', 'hull').at(-1)!.alloy).toBe('magnesium')
  })

  it('weighs the cheap cone of Sea Bramble under water as aluminium, not the zinc it was sold as', () => {
    const cone = of('Sea Bramble', 'propeller hub').find(
      (row) =>
        weighings.get(`${row.boat}|${row.anode}`)?.at(-1)?.submerged_in === 'fresh' && Number(row.gross_mass_g) < 250,
    )!
    const bath = weighings.get(`${cone.boat}|${cone.anode}`)!.at(-1)!
    const { value } = metalDensityOf({
      dryG: Number(bath.mass_g),
      submergedG: Number(bath.submerged_mass_g),
      water: waterDensityOf('fresh'),
      coreMassG: Number(cone.core_mass_g),
      resolutionG: 1,
    })
    expect(cone.alloy).toBe('zinc')
    // Readings to the gram: the range of the alloy's row, widened by 0.1 g/cm³.
    expect(value).toBeGreaterThan(metalDensity('aluminium-zinc-indium').lowGPerCm3 - 0.1)
    expect(value).toBeLessThan(metalDensity('aluminium-zinc-indium').highGPerCm3 + 0.1)
  })

  it('knows nothing of Quillfeather but what is fitted', () => {
    const boat = 'Quillfeather'
    const files = ['weighings.csv', 'potentials.csv', 'continuity.csv', 'haul-outs.csv']
    for (const file of files) expect(rowsOn(today, file).filter((row) => row.boat === boat)).toEqual([])
    expect(anodes.filter((row) => row.boat === boat).length).toBeGreaterThan(2)
    expect(rowsOn(today, 'stays.csv').filter((row) => row.boat === boat)).toHaveLength(1)
  })
})
