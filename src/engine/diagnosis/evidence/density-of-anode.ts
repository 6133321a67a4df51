import {
  alloyProbabilities,
  metalDensityOf,
  sdsFromNearestAlloy,
  type Uncertain,
  waterDensityOf,
} from '../../electrochemistry/density.js'
import { OutOfRange } from '../../errors.js'
import { USUAL_SCALE_STEP } from '../../reference/scales.js'
import type { AnodeAlloy } from '../../reference/vocabulary.js'
import type { Said } from '../../said.js'
import type { AnodeLook } from '../fleet-facts.js'
import { type Evidence, evidence } from './evidence.js'
import { ask, type RecordQuestionCode } from './question-codes.js'
import type { RecordQuestion } from './record-question.js'
import { nameOf, observedAnode, type Scene, type SceneAnode } from './scene.js'

/** What one weighing in air and water says. */
type Weighed = { readonly density: Uncertain } | { readonly question: Said<RecordQuestionCode> } | null

/** Beyond so many standard deviations from every anode alloy a weighing is doubted. See `sdsFromNearestAlloy`. */
const NO_ALLOY_SDS = 3.5
/** From this probability on a density fits an alloy. Convention. */
const FITS = 0.9
/** Bubbles, growth and a swinging hook spread a field weighing by this share of the density. Assumed. */
const FIELD_SPREAD = 0.02

/** Density of the scene's anodes against their declared alloy: what most of those hung in water say. */
export function densityEvidence({ anodes }: Scene): Evidence[] {
  const judged = anodes.flatMap((anode) => densityOf(anode) ?? [])
  const of = (state: string) => judged.filter((each) => each.state === state)
  const [another, declared] = [of('another'), of('declared')]
  const [most] = [another, declared, of('unclear')].sort((a, b) => b.length - a.length)
  const chosen =
    another.length > 0 && another.length >= declared.length ? another[0] : declared.length > 0 ? declared[0] : most?.[0]
  return chosen === undefined ? [] : [chosen]
}

/** What to ask about weighings in water that cannot be. */
export function densityQuestions(anode: SceneAnode): RecordQuestion[] {
  return weighedLooks(anode).flatMap((look): RecordQuestion[] => {
    const weighed = weigh(anode, look)
    if (weighed === null || !('question' in weighed)) return []
    return [{ kind: 'density', about: nameOf(anode), on: look.on, ...weighed.question }]
  })
}

function densityOf(anode: SceneAnode): Evidence | null {
  const declared = anode.history?.alloy ?? null
  const densities = weighedLooks(anode).flatMap((look) => {
    const weighed = weigh(anode, look)
    return weighed !== null && 'density' in weighed ? [weighed.density] : []
  })
  if (declared === null || densities.length === 0) return null
  const density = weightedMean(densities)
  return judge(declared, density, nameOf(anode))
}

function judge(declared: AnodeAlloy, { value, sd }: Uncertain, anode: string): Evidence {
  const alloys = alloyProbabilities({ value, sd })
  const own = alloys.find(({ alloy }) => alloy === declared)!.probability
  const measured = { anode, density: value, sd, declared }
  if (own >= FITS) return evidence('density', 'declared', 'density/declared', measured)
  const { alloy } = alloys.find((each) => each.alloy !== declared)!
  const state = own <= 1 - FITS ? 'another' : 'unclear'
  return evidence('density', state, `density/${state}`, { ...measured, alloy })
}

function weigh(anode: SceneAnode, look: AnodeLook): Weighed {
  const { dryMassG, submergedMassG, submergedIn, resolutionG } = look
  if (dryMassG === null || submergedMassG === null) return null
  const name = nameOf(anode)
  if (!(submergedMassG < dryMassG))
    return { question: ask('density/not-below', { anode: name, submergedG: submergedMassG, dryG: dryMassG }) }
  const { coreMassG, coreSdG } = coreOf(anode)
  const masses = { dryG: dryMassG, submergedG: submergedMassG, resolutionG: resolutionG ?? USUAL_SCALE_STEP.grams }
  try {
    const density = withCoreSpread(
      coreSdG,
      (coreG) => withFieldSpread(submergedIn, { ...masses, coreMassG: coreG }),
      coreMassG,
    )
    if (sdsFromNearestAlloy(density) <= NO_ALLOY_SDS) return { density }
    return { question: ask('density/no-alloy', { anode: name, density: density.value }) }
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error
    return { question: ask('density/not-together', { anode: name }) }
  }
}

/** The core as weighed, else as its shape usually has it, with its spread [g]. */
function coreOf(anode: SceneAnode): { readonly coreMassG: number; readonly coreSdG: number } {
  return observedAnode(anode)?.fitted ?? { coreMassG: anode.history?.coreMassG ?? 0, coreSdG: 0 }
}

/** A core that nobody weighed shifts the density: by how much, one standard deviation of it tells. */
function withCoreSpread(coreSdG: number, densityWith: (coreG: number) => Uncertain, coreG: number): Uncertain {
  const { value, sd } = densityWith(coreG)
  if (coreSdG === 0) return { value, sd }
  const shifted = densityWith(Math.max(0, coreG - coreSdG)).value
  return { value, sd: Math.hypot(sd, value - shifted) }
}

/** Where nobody noted the water, either may have been meant: the spread covers both. */
function withFieldSpread(
  submergedIn: AnodeLook['submergedIn'],
  masses: { dryG: number; submergedG: number; coreMassG: number; resolutionG: number },
): Uncertain {
  const salt = waterDensityOf('salt')
  const fresh = waterDensityOf('fresh')
  const between = { value: (salt.value + fresh.value) / 2, sd: (salt.value - fresh.value) / 2 }
  const { value, sd } = metalDensityOf({
    ...masses,
    water: submergedIn === null ? between : waterDensityOf(submergedIn),
  })
  return { value, sd: Math.hypot(sd, FIELD_SPREAD * value) }
}

function weighedLooks({ facts }: SceneAnode): AnodeLook[] {
  return (facts?.looks ?? []).filter(({ submergedMassG }) => submergedMassG !== null)
}

function weightedMean(densities: readonly Uncertain[]): Uncertain {
  const total = densities.reduce((sum, { sd }) => sum + 1 / sd ** 2, 0)
  const value = densities.reduce((sum, each) => sum + each.value / each.sd ** 2, 0) / total
  return { value, sd: Math.sqrt(1 / total) }
}
