import { convertPotential } from '../../electrochemistry/electrode.js'
import { GALVANIC_SERIES, type GalvanicRow } from '../../reference/galvanic-series.js'
import { PROTECTION_CRITERIA, type ProtectionCriterionRow } from '../../reference/protection-criteria.js'
import type { BoatFacts, FittingFacts } from '../fleet-facts.js'
import { type Evidence, evidence } from './evidence.js'
import { median } from './figures.js'
import { groupBy } from './groups.js'
import { samePlace } from './same-place.js'
import { isWithin, type Scene } from './scene.js'
import { type SoundPotential, soundPotentials } from './sound-potentials.js'
import { waterDuring } from './water-during.js'

/** Bounds of a shift as an electrode repeats to some 10 mV. Common practice. */
const SLIGHT_SHIFT_V = 0.02
const CLEAR_SHIFT_V = 0.04
/** Readings so many days apart may be set beside each other: one visit, or two. Convention. */
const PAIR_DAYS = 7
/** Published equivalents of one criterion differ by up to 0.03 V. See `convertPotential`. */
const CRITERION_MARGIN_V = 0.03
/** Shift from the free potential that protects: row `any-bonded-metal` of the criteria [V]. */
const PROTECTING_SHIFT_V = 0.2

/** By how much the potential moves with the shore lead in and out. */
export function shoreShiftEvidence(scene: Scene): Evidence[] {
  const shift = shiftBetween(scene, 'shorePower', ['connected', 'disconnected'], 'circuits')
  if (shift === null) return []
  return [evidence('shore-lead-shift', shiftState(shift), 'shore-lead-shift', { shift })]
}

/** By how much the potential moves with the boat's own circuits on and off. */
export function circuitShiftEvidence(scene: Scene): Evidence[] {
  const shift = shiftBetween(scene, 'circuits', ['on', 'off'], 'shorePower')
  if (shift === null) return []
  return [evidence('circuit-shift', shiftState(shift), 'circuit-shift', { shift })]
}

/**
 * The bonded hull's potential against what its metals ask for, in salt water. A wooden hull is judged as a plastic one: its own narrow limits
 * are there for the wood, and nearly every bonded one is beyond them.
 */
export function hullEvidence(scene: Scene): Evidence[] {
  const [boat] = scene.boats
  if (boat === undefined || scene.boats.length !== 1 || waterDuring(scene) !== 'salt') return []
  const criterion = hullCriterion(boat.facts.hull === 'wood' ? { ...boat.facts, hull: 'grp' } : boat.facts)
  const readings = readingsOf(scene).filter(({ fitting }) => fitting === null)
  const quiet = readings.filter(({ shorePower }) => shorePower !== 'connected')
  const volts = (quiet.length > 0 ? quiet : readings).map((each) => each.volts)
  if (criterion === null || volts.length === 0) return []
  const middle = median(volts)
  const state = againstCriterion(middle, criterion)
  const values = { volts: middle, from: criterion.protectedAtOrBelowV!, to: criterion.notBelowV! }
  return [evidence('hull-potential', state, 'hull-potential', values)]
}

/** The potential of the fitting beside the anode, against its own free potential, in salt water. */
export function fittingEvidence(scene: Scene): Evidence[] {
  if (waterDuring(scene) !== 'salt') return []
  const judged = readingsOf(scene).flatMap((reading) => {
    const { on, volts, fitting } = reading
    if (fitting === null) return []
    const metal = GALVANIC_SERIES.find(({ key }) => key === fittingBeside(scene, reading)?.metal)
    return metal === undefined || NEAR_ANODES.includes(metal.group) ? [] : [{ reading: { on, volts, fitting }, metal }]
  })
  const last = judged.sort((a, b) => b.reading.on - a.reading.on)[0]
  if (last === undefined) return []
  const low = againstAgAgcl(last.metal.lowVSce)
  const high = againstAgAgcl(last.metal.highVSce)
  const { volts, fitting } = last.reading
  const state =
    volts > low - CRITERION_MARGIN_V ? 'free' : volts <= (low + high) / 2 - PROTECTING_SHIFT_V ? 'polarised' : 'between'
  return [evidence('fitting-potential', state, 'fitting-potential', { fitting, volts, low, high })]
}

/** Metals whose own potential lies so near the anodes' that a shift tells nothing. */
const NEAR_ANODES: readonly GalvanicRow['group'][] = ['zinc', 'magnesium', 'cadmium', 'aluminium']

/** The criterion of a whole bonded hull; `null` where none is published for it. */
export function hullCriterion({ hull, fittings }: Pick<BoatFacts, 'hull' | 'fittings'>): ProtectionCriterionRow | null {
  const hasAluminiumDrive = fittings.some(({ metal, bonded }) => metal === 'aluminium-alloy' && bonded !== false)
  const key = hull === 'grp' ? (hasAluminiumDrive ? 'hull-grp-aluminium-drive' : 'hull-grp-inboard') : `hull-${hull}`
  return PROTECTION_CRITERIA.find(({ metal }) => metal === key) ?? null
}

/** Where a potential lies within a criterion's limits, with a margin for the electrode. */
export function againstCriterion(
  volts: number,
  { protectedAtOrBelowV, notBelowV }: ProtectionCriterionRow,
): 'not-negative-enough' | 'within' | 'too-negative' {
  if (protectedAtOrBelowV !== undefined && volts > protectedAtOrBelowV + CRITERION_MARGIN_V)
    return 'not-negative-enough'
  if (notBelowV !== undefined && volts < notBelowV - CRITERION_MARGIN_V) return 'too-negative'
  return 'within'
}

/** The sound readings of the scene's boats that can tell of it. */
export function readingsOf(scene: Scene): SoundPotential[] {
  return scene.boats.flatMap(({ facts }) => soundPotentials(facts).readings).filter(({ on }) => isWithin(scene, on))
}

/** Largest typical shift between two states of a switch, all else alike; `null` where no pair was read. */
function shiftBetween<K extends 'shorePower' | 'circuits'>(
  scene: Scene,
  varied: K,
  [first, second]: readonly [NonNullable<SoundPotential[K]>, NonNullable<SoundPotential[K]>],
  held: 'shorePower' | 'circuits',
): number | null {
  const readings = readingsOf(scene)
  const shifts = readings
    .filter((reading) => reading[varied] === first)
    .flatMap((one) =>
      readings
        .filter((other) => other[varied] === second && other.boat === one.boat && other.fitting === one.fitting)
        .filter((other) => other[held] === one[held] && Math.abs(other.on - one.on) <= PAIR_DAYS)
        .map((other) => ({ fitting: one.fitting, shift: one.volts - other.volts })),
    )
  if (shifts.length === 0) return null
  const byFitting = [...groupBy(shifts, ({ fitting }) => fitting).values()]
  return Math.max(...byFitting.map((of) => Math.abs(median(of.map(({ shift }) => shift)))))
}

function shiftState(shift: number): 'none' | 'slight' | 'clear' {
  return shift < SLIGHT_SHIFT_V ? 'none' : shift < CLEAR_SHIFT_V ? 'slight' : 'clear'
}

function fittingBeside({ anodes, boats }: Scene, reading: SoundPotential): FittingFacts | undefined {
  const fittings = boats.find(({ boat }) => boat === reading.boat)?.facts.fittings ?? []
  const fitting = fittings.find((each) => each.fitting === reading.fitting)
  if (fitting === undefined) return undefined
  const beside = anodes.some(({ history }) => history !== null && samePlace(history, fitting.fitting))
  return beside ? fitting : undefined
}

function againstAgAgcl(voltsSce: number): number {
  return convertPotential(voltsSce, 'sce', 'ag-agcl-seawater')
}
