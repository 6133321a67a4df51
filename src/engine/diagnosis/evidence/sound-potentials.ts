import { convertPotential } from '../../electrochemistry/electrode.js'
import type { Said } from '../../said.js'
import type { BoatFacts, PotentialReading } from '../fleet-facts.js'
import { median } from './figures.js'
import { groupBy } from './groups.js'
import { ask, type RecordQuestionCode } from './question-codes.js'
import type { RecordQuestion } from './record-question.js'

/** A reading that can be believed, against silver/silver chloride in seawater. */
export interface SoundPotential {
  readonly boat: string
  readonly on: number
  readonly fitting: string | null
  readonly volts: number
  readonly shorePower: PotentialReading['shorePower']
  readonly circuits: PotentialReading['circuits']
}

/** No metal of the series stands above graphite's +0.3 V, nor below magnesium's −1.7 V; with 0.1 V to spare. */
const NOBLEST_V = 0.4
const BASEST_V = -1.8
/** A bonded hull stands below the noblest of its protected metals: above this its sign was dropped, or nothing is bonded. Assumed. */
const NOBLEST_HULL_V = 0.1
/** Readings of one spot on one day repeat to some 10 mV; farther apart than this the electrode is drifting. Common practice. */
const STEADY_V = 0.06

/** A boat's readings, in one reference, without those that contradict themselves; and what to ask about these. */
export function soundPotentials(facts: Pick<BoatFacts, 'boat' | 'potentials'>): {
  readonly readings: readonly SoundPotential[]
  readonly questions: readonly RecordQuestion[]
} {
  const questions: RecordQuestion[] = []
  const believable = facts.potentials.flatMap((reading): SoundPotential[] => {
    const { on, fitting, shorePower, circuits } = reading
    const question = doubtOf(reading)
    if (question !== null) questions.push({ kind: 'potential', about: fitting, on, ...question })
    if (question !== null || reading.reference === null) return []
    const volts = convertPotential(reading.volts, reading.reference, 'ag-agcl-seawater')
    return [{ boat: facts.boat, on, fitting, volts, shorePower, circuits }]
  })
  const spots = groupBy(believable, (each) => JSON.stringify([each.on, each.fitting, each.shorePower, each.circuits]))
  const readings = [...spots.values()].flatMap((spot) => {
    const spread = spreadOf(spot)
    if (spread <= STEADY_V) return [{ ...spot[0]!, volts: median(spot.map(({ volts }) => volts)) }]
    const { fitting, on } = spot[0]!
    const question = ask('potential/drifting', { fitting: fitting ?? '', readings: spot.length, spread })
    questions.push({ kind: 'potential', about: fitting, on, ...question })
    return []
  })
  return { readings, questions }
}

function doubtOf(reading: PotentialReading): Said<RecordQuestionCode> | null {
  const { reference, volts } = reading
  const fitting = reading.fitting ?? ''
  if (!Number.isFinite(volts)) return ask('potential/no-number', { fitting })
  if (reference === null) return ask('potential/no-reference', { fitting, volts })
  const converted = convertPotential(volts, reference, 'ag-agcl-seawater')
  const noblest = reading.fitting === null ? NOBLEST_HULL_V : NOBLEST_V
  const read = { fitting, volts, electrode: reference }
  if (converted > noblest) return ask('potential/sign', read)
  return converted < BASEST_V ? ask('potential/below-any', read) : null
}

function spreadOf(spot: readonly SoundPotential[]): number {
  const volts = spot.map((each) => each.volts)
  return Math.max(...volts) - Math.min(...volts)
}
