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
import type { AnodeLook } from '../fleet-facts.js'
import type { Evidence } from './evidence.js'
import type { RecordQuestion } from './record-question.js'
import { nameOf, observedAnode, type Scene, type SceneAnode } from './scene.js'

/** What one weighing in air and water says. */
type Weighed = { readonly density: Uncertain } | { readonly question: string } | null

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
  return chosen === undefined ? [] : [{ observation: 'density', state: chosen.state, what: chosen.what }]
}

/** What to ask about weighings in water that cannot be. */
export function densityQuestions(anode: SceneAnode): RecordQuestion[] {
  return weighedLooks(anode).flatMap((look): RecordQuestion[] => {
    const weighed = weigh(anode, look)
    if (weighed === null || !('question' in weighed)) return []
    return [{ kind: 'density', about: nameOf(anode), on: look.on, question: weighed.question }]
  })
}

function densityOf(anode: SceneAnode) {
  const declared = anode.history?.alloy ?? null
  const densities = weighedLooks(anode).flatMap((look) => {
    const weighed = weigh(anode, look)
    return weighed !== null && 'density' in weighed ? [weighed.density] : []
  })
  if (declared === null || densities.length === 0) return null
  const density = weightedMean(densities)
  return { ...judge(declared, density, nameOf(anode)) }
}

function judge(declared: AnodeAlloy, density: Uncertain, name: string) {
  const alloys = alloyProbabilities(density)
  const own = alloys.find(({ alloy }) => alloy === declared)!.probability
  const state = own >= FITS ? ('declared' as const) : own <= 1 - FITS ? ('another' as const) : ('unclear' as const)
  const measured = `${name} has a density of ${density.value.toFixed(2)} ± ${density.sd.toFixed(2)} g/cm³`
  const what = {
    declared: `${measured}, as ${declared} has.`,
    another: `${measured}: that of ${alloys[0]!.alloy}, not of the declared ${declared}.`,
    unclear: `${measured}, which tells ${declared} from ${alloys.find(({ alloy }) => alloy !== declared)!.alloy} hardly.`,
  }[state]
  return { state, what }
}

function weigh(anode: SceneAnode, look: AnodeLook): Weighed {
  const { dryMassG, submergedMassG, submergedIn, resolutionG } = look
  if (dryMassG === null || submergedMassG === null) return null
  const who = nameOf(anode)
  if (!(submergedMassG < dryMassG))
    return {
      question: `${who}: ${submergedMassG} g under water is not below the ${dryMassG} g in air. Were the two swapped?`,
    }
  const { coreMassG, coreSdG } = coreOf(anode)
  const masses = { dryG: dryMassG, submergedG: submergedMassG, resolutionG: resolutionG ?? USUAL_SCALE_STEP.grams }
  try {
    const density = withCoreSpread(
      coreSdG,
      (coreG) => withFieldSpread(submergedIn, { ...masses, coreMassG: coreG }),
      coreMassG,
    )
    if (sdsFromNearestAlloy(density) <= NO_ALLOY_SDS) return { density }
    return {
      question: `${who}: a density of ${density.value.toFixed(2)} g/cm³ is of no anode alloy. Was it wholly under water, and its core taken off?`,
    }
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error
    return {
      question: `${who}: the masses in air and water don't go together (${error.quantity}). What did the scale show?`,
    }
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
