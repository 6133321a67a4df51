import { describe, expect, it } from 'vitest'
import { againstCriterion, hullCriterion } from '../../../src/engine/diagnosis/evidence/potentials.js'
import { samePlace } from '../../../src/engine/diagnosis/evidence/same-place.js'
import { soundPotentials } from '../../../src/engine/diagnosis/evidence/sound-potentials.js'
import type { PotentialReading } from '../../../src/engine/diagnosis/fleet-facts.js'

const reading = (change: Partial<PotentialReading>): PotentialReading => ({
  on: 20_000,
  fitting: null,
  reference: 'ag-agcl-seawater',
  volts: -0.9,
  shorePower: null,
  circuits: null,
  ...change,
})

const read = (...potentials: PotentialReading[]) => soundPotentials({ boat: 'Tern', potentials })

describe('the potential of a bonded hull', () => {
  // The steel criterion as SP0176-2007 prints it for four electrodes (page "Cathodic protection standards"): rounded by up to 0.03 V.
  it.each([
    ['ag-agcl-seawater', -0.8],
    ['sce', -0.78],
    ['cse', -0.85],
    ['zinc', 0.25],
  ] as const)('is protected at the steel criterion against %s, %f V', (reference, volts) => {
    const steel = hullCriterion({ hull: 'steel', fittings: [] })!
    const [sound] = read(reading({ reference, volts })).readings
    expect(againstCriterion(sound!.volts, steel)).toBe('within')
    const [less] = read(reading({ reference, volts: volts + 0.1 })).readings
    expect(againstCriterion(less!.volts, steel)).toBe('not-negative-enough')
  })

  // A supplier's table in the manner of ABYC E-2 ("Cathodic protection voltages"): wood −0.55 to −0.60 V, aluminium −0.90 to −1.10 V.
  it('is judged by its own hull: wood suffers where aluminium needs it', () => {
    const at = (hull: string, volts: number) => againstCriterion(volts, hullCriterion({ hull, fittings: [] })!)
    expect(at('wood', -0.57)).toBe('within')
    expect(at('wood', -1)).toBe('too-negative')
    expect(at('aluminium', -1)).toBe('within')
    expect(at('aluminium', -0.8)).toBe('not-negative-enough')
    expect(at('aluminium', -1.2)).toBe('too-negative')
  })

  it('asks for more of a plastic hull with an aluminium drive, and nothing of a hull that no table has', () => {
    const drive = { fitting: 'drive', metal: 'aluminium-alloy', areaCm2: null, coated: null, bonded: true }
    const limits = (fittings: (typeof drive)[]) => hullCriterion({ hull: 'grp', fittings })?.protectedAtOrBelowV
    expect(limits([])).toBe(-0.75)
    expect(limits([drive])).toBe(-0.9)
    expect(hullCriterion({ hull: 'ferrocement', fittings: [] })).toBeNull()
  })
})

describe('soundPotentials', () => {
  it('takes the middle of readings that agree, and none of those that drift', () => {
    expect(read(reading({ volts: -0.9 }), reading({ volts: -0.92 }), reading({ volts: -0.91 })).readings).toMatchObject(
      [{ volts: -0.91 }],
    )
    const drifting = read(reading({ volts: -0.6 }), reading({ volts: -0.9 }))
    expect(drifting.readings).toEqual([])
    expect(drifting.questions).toHaveLength(1)
  })

  it('lets a noble fitting stand where no hull can', () => {
    expect(read(reading({ fitting: 'graphite seal', volts: 0.25 })).readings).toHaveLength(1)
    expect(read(reading({ volts: 0.25 })).readings).toHaveLength(0)
  })
})

describe('samePlace', () => {
  it('goes by the words of the trade, not by sides and numbers', () => {
    expect(samePlace({ anode: 'A1', position: 'shaft' }, 'Propeller shaft')).toBe(true)
    expect(samePlace({ anode: 'hull port 3', position: 'hull' }, 'port seacock')).toBe(false)
  })
})
