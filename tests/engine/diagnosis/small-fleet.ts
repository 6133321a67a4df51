import type { Anomaly } from '../../../src/engine/diagnosis/anomaly.js'
import type { AnodeLook, BerthSurroundings, BoatFacts, FleetFacts } from '../../../src/engine/diagnosis/fleet-facts.js'
import { fitRates } from '../../../src/engine/rates/fit-rates.js'
import type { AnodeHistory, BoatHistory } from '../../../src/engine/rates/fleet-history.js'
import type { RateModel } from '../../../src/engine/rates/rate-model.js'
import type { AnodeAlloy } from '../../../src/engine/reference/vocabulary.js'

const START = 18_000
const YEAR = 365
const YEARS = 4
const NET_G = 1000
const CORE_G = 80
const POSITIONS = ['shaft', 'hull', 'rudder'] as const
export const AS_OF = START + YEARS * YEAR + 10
/** The day from which the small fleet's faults act. */
export const ONSET = START + 2 * YEAR

/** What is out of the ordinary in a small fleet. */
export interface SmallFleet {
  /** Factor on the usual 0.9 g a day, by boat and position, since `ONSET`. */
  readonly factor?: (boat: string, position: string) => number
  readonly alloyOf?: (boat: string, position: string) => AnodeAlloy
  readonly berth?: Partial<BerthSurroundings>
  readonly boat?: (boat: string) => Partial<BoatFacts>
  readonly bonded?: boolean | null
  readonly looks?: (key: string) => readonly AnodeLook[]
}

/** Six boats on one pontoon, three anodes each, weighed yearly; an invented fleet whose ordinary wear differs by a few percent. */
export function smallFleet(draw: SmallFleet = {}): { readonly model: RateModel; readonly facts: FleetFacts } {
  const names = ['Tern', 'Plover', 'Dunlin', 'Knot', 'Ruff', 'Snipe']
  const berths: BerthSurroundings[] = names.map((_, index) => ({
    berth: `A${index + 1}`,
    pontoon: 'A',
    water: 'salt',
    salinityPsu: 34,
    hasShorePower: true,
    ...draw.berth,
  }))
  const boats = names.map(
    (boat, index): BoatHistory => ({
      boat,
      stays: [{ from: START - 100, to: null, berth: `A${index + 1}` }],
      haulOuts: [],
      anodes: POSITIONS.map((position, place) =>
        anodeOf(boat, position, draw, 1 + 0.03 * Math.sin(7 * index + 3 * place)),
      ),
      demandCurrentA: null,
    }),
  )
  const history = { berths: berths.map(({ berth, water }) => ({ berth, water, latitude: 50 })), boats }
  return {
    model: fitRates(history, AS_OF),
    facts: { berths, boats: boats.map((each, index) => factsOf(each, index, draw)) },
  }
}

function anodeOf(boat: string, position: string, draw: SmallFleet, wobble: number): AnodeHistory {
  const key = keyOf(boat, position)
  const rate = (0.9 * wobble * NET_G) / 1000 / YEARS
  let net = NET_G
  const weighings = Array.from({ length: YEARS }, (_, year) => {
    const on = START + (year + 1) * YEAR
    const factor = on > ONSET ? (draw.factor?.(boat, position) ?? 1) : 1
    net = Math.max(0, net - rate * factor * YEAR)
    return { on, judgement: { method: 'scale' as const, grossMassG: net + CORE_G, resolutionG: 1, cleaned: true } }
  })
  return {
    key,
    anode: `${position} 1`,
    position,
    alloy: draw.alloyOf?.(boat, position) ?? 'zinc',
    shape: null,
    fittedOn: START,
    removedOn: null,
    fittedGrossMassG: NET_G + CORE_G,
    coreMassG: CORE_G,
    dimensions: { lengthMm: null, widthMm: null, heightMm: null },
    threshold: 0.5,
    weighings,
  }
}

function factsOf({ boat }: BoatHistory, index: number, draw: SmallFleet): BoatFacts {
  return {
    boat,
    hull: 'grp',
    hasIsolator: null,
    fittings: [
      { fitting: 'propeller shaft', metal: 'stainless-316-passive', areaCm2: 1500, coated: false, bonded: true },
      { fitting: 'seacock', metal: 'tin-bronze-g-m', areaCm2: 300, coated: false, bonded: true },
    ],
    stays: [{ from: START - 100, to: null, berth: `A${index + 1}`, hoursPerDay: null }],
    potentials: [],
    continuity: [],
    anodes: POSITIONS.map((position) => ({
      key: keyOf(boat, position),
      anode: `${position} 1`,
      bonded: draw.bonded === undefined ? true : draw.bonded,
      looks: draw.looks?.(keyOf(boat, position)) ?? [],
    })),
    ...draw.boat?.(boat),
  }
}

export function keyOf(boat: string, position: string): string {
  return `${boat}/${position}`
}

/** An anomaly as it would be detected. */
export function anomaly(change: Partial<Anomaly> & Pick<Anomaly, 'scope' | 'direction' | 'anodes'>): Anomaly {
  const boat = change.scope === 'anode' || change.scope === 'boat' ? (change.anodes[0]?.split('/')[0] ?? null) : null
  const { scope } = change
  return {
    boat,
    berth: null,
    pontoon: scope === 'pontoon' ? 'A' : null,
    noticedBy: 'interval',
    onset: { p10: ONSET - 40, p50: ONSET + 20, p90: ONSET + 120 },
    surprise: change.direction === 'slow' ? -4 : 4,
    adjustedP: 0.001,
    logRatio: { mean: change.direction === 'slow' ? -2 : 1.1, sd: 0.2 },
    shares: {
      anode: +(scope === 'anode'),
      boat: +(scope === 'boat'),
      berth: +(scope === 'berth'),
      pontoon: +(scope === 'pontoon'),
    },
    ...change,
  }
}

/** A look at an anode on one of the yearly days. */
export function look(change: Partial<AnodeLook>): AnodeLook {
  return {
    on: ONSET + YEAR,
    conditions: [],
    dryMassG: null,
    submergedMassG: null,
    submergedIn: null,
    resolutionG: 1,
    ...change,
  }
}
