import { waterDensityOf } from '../../src/engine/electrochemistry/density.js'
import type { Water } from '../../src/engine/reference/vocabulary.js'
import { type Dice, dice } from '../random.js'
import { type Size, sizeLeft, submergedMassG } from './anode-bodies.js'
import type { Anode } from './anode-lives.js'
import type { Practice } from './boats.js'
import { daysBetween } from './calendar.js'
import { storyConditions } from './stories.js'

export interface Weighing {
  on: string
  method: 'scale' | 'dimensions' | 'visual'
  massG?: number
  resolutionG?: number
  cleaned?: boolean
  submergedMassG?: number
  submergedIn?: 'salt' | 'fresh'
  wastedPercent?: number
  size?: Size
  conditions: readonly string[]
}

/** The truth that someone looks at, and how. */
export interface Sight {
  on: string
  netG: number
  occasion: 'lift' | 'dive'
  /** Taken off for good: lies on the bench, easy to weigh. */
  removed: boolean
  today: string
  shoreHours: number
}

type Method = Weighing['method'] | 'none'

/** How often each practice weighs, measures, looks or does nothing at an anode that stays on. */
const METHODS: Readonly<Record<Practice, readonly Method[]>> = {
  keen: ['scale', 'scale', 'scale', 'scale', 'scale', 'scale', 'scale', 'scale', 'visual', 'none'],
  yard: ['scale', 'scale', 'scale', 'scale', 'scale', 'visual', 'visual', 'visual', 'none', 'none'],
  calipers: ['dimensions', 'dimensions', 'dimensions', 'dimensions', 'visual', 'none'],
  eye: ['visual', 'visual', 'visual', 'none'],
}

/** Errors of the demo's people, invented: callipers ride on the peaks, the eye sees in steps of five per cent. */
const CALLIPER_BIAS = 0.03
const CALLIPER_SD = 0.035
const EYE_SD = 0.08
const SCALE_SD = 0.002

/** What is written down of an anode on one occasion, or nothing. */
export function weigh(anode: Anode, practice: Practice, sight: Sight, water: Water): Weighing | undefined {
  const chance = dice(anode.boat, anode.anode, 'weighing', daysBetween(sight.on, sight.today))
  const method = methodFor(anode, practice, sight, chance)
  if (method === 'none') return undefined
  const remaining = sight.netG / anode.wearing.newNetG
  const conditions = conditionsFor(anode, sight, water, 1 - remaining, chance)
  if (method === 'visual') return { on: sight.on, method, wastedPercent: byEye(anode, remaining, chance), conditions }
  if (method === 'dimensions') return { on: sight.on, method, size: byCallipers(anode, remaining, chance), conditions }
  return { on: sight.on, method, ...byScale(anode, practice, sight, conditions, chance), conditions }
}

function methodFor(anode: Anode, practice: Practice, sight: Sight, chance: Dice): Method {
  if (sight.occasion === 'dive') return 'visual'
  if (sight.removed && chance.chance(0.9)) return 'scale'
  if (anode.mount.shape === 'pencil') return 'scale'
  return chance.pick(METHODS[practice])
}

/** People know what they wrote last time: a later look is hardly ever a better one. */
function byEye(anode: Anode, remaining: number, chance: Dice): number {
  const seen = 100 * (1 - remaining) + 100 * chance.normal(0, EYE_SD)
  const last = Math.max(0, ...anode.weighings.map((w) => w.wastedPercent ?? 0))
  return Math.min(95, Math.max(last, 0, Math.round(seen / 5) * 5))
}

function byCallipers(anode: Anode, remaining: number, chance: Dice): Size {
  const read = Math.min(1, remaining * (1 + chance.normal(CALLIPER_BIAS, CALLIPER_SD)))
  const left = sizeLeft(anode.mount, read)
  const last = anode.weighings.findLast((w) => w.size !== undefined)?.size ?? anode.mount
  return {
    lengthMm: Math.min(last.lengthMm, Math.round(left.lengthMm)),
    widthMm: Math.min(last.widthMm, Math.round(left.widthMm)),
    heightMm: Math.min(last.heightMm, Math.round(left.heightMm * 2) / 2),
  }
}

function byScale(
  anode: Anode,
  practice: Practice,
  sight: Sight,
  conditions: readonly string[],
  chance: Dice,
): Pick<Weighing, 'massG' | 'resolutionG' | 'cleaned' | 'submergedMassG' | 'submergedIn'> {
  const heavy = anode.grossG > 3000
  const resolutionG = heavy ? 5 : practice === 'keen' ? 1 : chance.pick([2, 5])
  // A piece that feels too light is brushed and hung in the tap water at once.
  const suspect = anode.wearing.alloy !== anode.declared
  const cleaned = chance.chance(practice === 'keen' ? 0.9 : 0.45) || suspect
  // Slime and oxide stay on a piece that nobody brushed, more where it is crusted over.
  const dirt = cleaned ? 0 : chance.between(0.002, conditions.includes('crusted') ? 0.025 : 0.012)
  const { coreMassG } = anode.mount
  const truth = coreMassG + sight.netG * (1 + dirt + chance.normal(0, SCALE_SD))
  const last = anode.weighings.findLast((w) => w.massG !== undefined)?.massG ?? anode.grossG
  const read = Math.min(last, Math.round(truth / resolutionG) * resolutionG)
  const massG = Math.max(read, Math.ceil((coreMassG + 1) / resolutionG) * resolutionG)
  const bath = suspect || (sight.removed && resolutionG === 1 && cleaned && chance.chance(0.2))
  if (!bath) return { massG, resolutionG, cleaned }
  const tap = waterDensityOf('fresh').value
  const submerged = submergedMassG(anode.wearing.alloy, massG - coreMassG, coreMassG, tap)
  return { massG, resolutionG, cleaned, submergedMassG: Math.round(submerged), submergedIn: 'fresh' }
}

function conditionsFor(anode: Anode, sight: Sight, water: Water, wasted: number, chance: Dice): readonly string[] {
  const story = storyConditions({
    boat: anode.boat,
    mount: anode.mount.mount,
    bonded: anode.mount.bonded,
    fittedDaysAgo: daysBetween(anode.fittedOn, sight.today),
    daysAgo: daysBetween(sight.on, sight.today),
    shoreHours: sight.shoreHours,
  })
  if (story !== undefined) return story
  if (anode.declared === 'zinc' && water === 'fresh') return ['crusted']
  if (wasted > 0.85) return chance.pick([['undercut'], ['broken'], []])
  if (water === 'brackish' && chance.chance(0.15)) return ['crusted']
  if (chance.chance(0.06)) return ['even', 'pitted']
  return chance.pick([['even'], ['even'], ['even'], []])
}
