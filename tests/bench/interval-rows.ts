import type { MixedModelData, RandomTerm } from '../../src/engine/statistics/mixed-model/types.js'
import { Uniform } from '../engine/simulated-fleet.js'

/** How many of each; intervals are dealt out to the boats evenly. */
export interface FleetSize {
  readonly boats: number
  readonly berths: number
  readonly intervals: number
}

/** Standard deviations of the log rate that the rows are drawn with: of the order that fleets show. */
const SPREAD = { boat: 0.35, berth: 0.2, anode: 0.15, residual: 0.3 }
const ALLOY_EFFECTS = [0, 0.3, -0.3]
const ANODES_A_BOAT = 3
/** Share of the intervals at a boat's own berth; the others are at the two that it goes to. */
const SHARE_AT_HOME = 0.6
/** Standard deviation of one weighing on the log scale of an interval's rate. */
const WEIGHING_SD = 0.08

/** Drawn rows in plain arrays: level numbers of boat, berth and anode, and the alloy's. */
export interface IntervalRows {
  readonly size: FleetSize
  readonly logRate: Float64Array
  readonly alloy: Int32Array
  readonly boat: Int32Array
  readonly berth: Int32Array
  readonly anode: Int32Array
}

/** Draws rows from the model itself: every boat lies at one berth and, less often, at two others. */
export function drawRows(size: FleetSize): IntervalRows {
  const random = new Uniform(size.intervals)
  const effects = (count: number, sd: number) => Float64Array.from({ length: count }, () => sd * random.normal())
  const below = (count: number) => Math.floor(random.next() * count)
  const boats = effects(size.boats, SPREAD.boat)
  const berths = effects(size.berths, SPREAD.berth)
  const anodes = effects(size.boats * ANODES_A_BOAT, SPREAD.anode)
  const berthsOfBoat = Array.from({ length: size.boats }, () => [0, 1, 2].map(() => below(size.berths)))
  const n = size.intervals
  const rows = {
    size,
    logRate: new Float64Array(n),
    alloy: new Int32Array(n),
    boat: new Int32Array(n),
    berth: new Int32Array(n),
    anode: new Int32Array(n),
  }
  for (let row = 0; row < n; row++) {
    const boat = Math.floor((row * size.boats) / n)
    const visit = random.next() < SHARE_AT_HOME ? 0 : 1 + below(2)
    const anode = boat * ANODES_A_BOAT + (row % ANODES_A_BOAT)
    rows.boat[row] = boat
    rows.berth[row] = berthsOfBoat[boat]![visit]!
    rows.anode[row] = anode
    rows.alloy[row] = below(ALLOY_EFFECTS.length)
    const mean = ALLOY_EFFECTS[rows.alloy[row]!]! + boats[boat]! + berths[rows.berth[row]!]!
    rows.logRate[row] = mean + anodes[anode]! + SPREAD.residual * random.normal()
  }
  return rows
}

/** y ~ alloy + (1 | boat) + (1 | berth): the model of the anchor. */
export function anchorModel(rows: IntervalRows): MixedModelData {
  const { boats, berths } = rows.size
  return {
    ...fixedPart(rows),
    random: [term('boat', boats, rows.boat), term('berth', berths, rows.berth)],
    errorVariance: new Float64Array(rows.logRate.length),
  }
}

/** The same with an effect of each anode, and weighings whose errors two successive intervals share. */
export function weighedModel(rows: IntervalRows): MixedModelData {
  const { boats, berths } = rows.size
  const errorCovariance: { row: number; other: number; covariance: number }[] = []
  const last = new Int32Array(boats * ANODES_A_BOAT).fill(-1)
  rows.anode.forEach((anode, row) => {
    if (last[anode]! >= 0) errorCovariance.push({ row, other: last[anode]!, covariance: -(WEIGHING_SD ** 2) })
    last[anode] = row
  })
  return {
    ...fixedPart(rows),
    random: [
      term('boat', boats, rows.boat),
      term('berth', berths, rows.berth),
      term('anode', boats * ANODES_A_BOAT, rows.anode),
    ],
    errorVariance: new Float64Array(rows.logRate.length).fill(2 * WEIGHING_SD ** 2),
    errorCovariance,
    residualScale: Float64Array.from(rows.logRate, (_, row) => 1 + (row % 4) / 4),
  }
}

function fixedPart({ logRate, alloy }: IntervalRows): Pick<MixedModelData, 'y' | 'fixedNames' | 'fixed'> {
  const indicator = (level: number) => Float64Array.from(alloy, (own) => (own === level ? 1 : 0))
  return {
    y: logRate,
    fixedNames: ['intercept', 'alloy 1', 'alloy 2'],
    fixed: [new Float64Array(logRate.length).fill(1), indicator(1), indicator(2)],
  }
}

function term(name: string, count: number, levels: Int32Array): RandomTerm {
  return {
    name,
    levels: Array.from({ length: count }, (_, level) => `${name} ${level}`),
    membership: Array.from(levels, (level) => [{ level, weight: 1 }]),
  }
}
