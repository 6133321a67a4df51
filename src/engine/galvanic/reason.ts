import { POTENTIAL_STEPS } from '../reference/galvanic-grades.js'
import { type GalvanicMetal, galvanicMetal } from '../reference/galvanic-series.js'
import type { Water } from '../reference/vocabulary.js'
import type { JudgedCouple } from './grade.js'

interface ReasonedFacts {
  readonly cathode: { readonly metal: GalvanicMetal }
  readonly anode: { readonly metal: GalvanicMetal }
  readonly areRolesCertain: boolean
  readonly deltaVolts: { readonly low: number; readonly high: number }
  readonly typicalVolts: number
  readonly areaRatio: number | null
  readonly exposedRatio: number | null
}

/** Metals that anodes are cast of; aluminium is a fitting's metal as often. */
const ANODE_METALS: readonly GalvanicMetal[] = ['zinc', 'magnesium']

const SALT_LIMIT_V = POTENTIAL_STEPS.find((row) => row.key === 'salt-water-limit')!.upToV

/** The grade of a couple in plain sentences: what the potentials say, then what the areas and the water make of it. */
export function reasonOf(facts: ReasonedFacts, judged: JudgedCouple, water: Water | null): string {
  const sentences = [
    potentialSentence(facts),
    areaSentence(facts, judged),
    purposeSentence(facts),
    waterSentence(water),
  ]
  return sentences.filter(Boolean).join(' ')
}

function potentialSentence({ cathode, anode, areRolesCertain, deltaVolts, typicalVolts }: ReasonedFacts): string {
  const nobler = nameWithin(cathode.metal)
  const lesser = nameWithin(anode.metal)
  if (cathode.metal === anode.metal) return `The same metal twice (${nobler}).`
  if (!areRolesCertain) {
    return `The ranges of ${nobler} and ${lesser} overlap: either may be the anode, by up to ${volts(deltaVolts.high)} V.`
  }
  const range = `${volts(deltaVolts.low)} to ${volts(deltaVolts.high)} V`
  return `Of the two, ${lesser} is the anode: ${range} below ${nobler}, ${volts(typicalVolts)} V between the middles.`
}

function areaSentence({ areaRatio, exposedRatio }: ReasonedFacts, judged: JudgedCouple): string {
  const { areas, byPotential, between } = judged
  if (areas === 'not-asked')
    return `By the middles that is within ${volts(SALT_LIMIT_V)} V, the usual limit in salt water.`
  if (areas === 'not-counted') return `By potential alone that is ${byPotential}; the areas were not counted.`
  if (areas === 'unknown' || exposedRatio === null) {
    return `By potential alone that is ${byPotential}; the areas decide, from ${between[0]} to ${between[1]}, and one is not known.`
  }
  const ratio = `The nobler metal has ${times(exposedRatio)} the area of the anode${isPainted(areaRatio, exposedRatio)}`
  if (areas === 'worse') return `${ratio}: all the attack goes to a small surface, which makes it worse.`
  if (areas === 'better') return `${ratio}: the attack is spread over a large surface, which makes it better.`
  return `${ratio}, which makes it neither better nor worse.`
}

function purposeSentence({ cathode, anode }: ReasonedFacts): string {
  const isSacrificial = ANODE_METALS.includes(anode.metal)
  if (!isSacrificial || cathode.metal === anode.metal) return ''
  return `As a sacrificial anode ${nameWithin(anode.metal)} is meant to waste; as a fitting it would not last.`
}

function waterSentence(water: Water | null): string {
  if (water === null) return 'The water is not known; the series is of seawater.'
  return water === 'fresh' ? 'The series is of seawater: in fresh water it only indicates.' : ''
}

function isPainted(areaRatio: number | null, exposedRatio: number): string {
  return areaRatio !== null && areaRatio !== exposedRatio ? ', paint allowed for' : ''
}

/** A metal's name as it stands within a sentence: its first word is no proper name. */
export function nameWithin(metal: GalvanicMetal): string {
  const { name } = galvanicMetal(metal)
  return name.charAt(0).toLowerCase() + name.slice(1)
}

/** Two digits as the series has; sums of such decimals may lie a last bit below a half. */
function volts(value: number): string {
  return (value + 1e-9).toFixed(2)
}

/** A potential with its sign as it is printed. @example sayPotential(-0.9) // '−0.90 V' */
export function sayPotential(value: number): string {
  return `${value.toFixed(2).replace('-', '−')} V`
}

/** A ratio as people say it: 12 times, 1.5 times, a twentieth of. */
function times(ratio: number): string {
  if (ratio >= 10) return `${Math.round(ratio)} times`
  if (ratio >= 1) return `${ratio.toFixed(1)} times`
  return `1/${1 / ratio >= 10 ? Math.round(1 / ratio) : (1 / ratio).toFixed(1)} of`
}
