import type { Water } from '../../reference/vocabulary.js'
import type { BerthSurroundings } from '../fleet-facts.js'
import { ask } from './question-codes.js'
import type { RecordQuestion } from './record-question.js'
import { isDuring, type Scene } from './scene.js'

/** Bounds of the salinity of fresh and of sea water [psu]; generous ones, to contradict a label only where it is clearly wrong. From memory: Venice system. */
const FRESH_BELOW_PSU = 0.5
const SALT_FROM_PSU = 30
const CLEARLY_NOT_FRESH_PSU = 3
const CLEARLY_NOT_SALT_PSU = 10

/** The water that the scene's anodes lay in most while it lasted; `null` where nobody recorded it or records contradict each other. */
export function waterDuring(scene: Scene): Water | null {
  const days = new Map<Water, number>()
  const add = (berth: string, more: number) => {
    const water = waterOf(scene.fleet.berths.get(berth))
    if (water !== null) days.set(water, (days.get(water) ?? 0) + more)
  }
  const keys = new Set(scene.anodes.map(({ key }) => key))
  for (const { intervals, facts } of scene.boats) {
    const own = intervals.filter((each) => isDuring(scene, each) && (keys.size === 0 || keys.has(each.anode)))
    for (const { interval } of own) for (const [berth, more] of interval.context.exposure.byBerth) add(berth, more)
    const last = facts.stays.filter(({ berth }) => berth !== null).sort((a, b) => b.from - a.from)[0]
    if (own.length === 0 && last?.berth != null) add(last.berth, 1)
  }
  const [most] = [...days].sort((a, b) => b[1] - a[1])
  return most === undefined ? null : most[0]
}

/** A berth's water by its label, else by its salinity; `null` where the two contradict each other. */
export function waterOf(berth: BerthSurroundings | undefined): Water | null {
  if (berth === undefined || contradiction(berth) !== null) return null
  const { water, salinityPsu } = berth
  if (water !== null || salinityPsu === null) return water
  return salinityPsu < FRESH_BELOW_PSU ? 'fresh' : salinityPsu < SALT_FROM_PSU ? 'brackish' : 'salt'
}

/** What to ask where a berth's label and salinity contradict each other. */
export function contradiction({ berth, water, salinityPsu }: BerthSurroundings): RecordQuestion | null {
  if (water === null || salinityPsu === null) return null
  const isWrong =
    (water === 'fresh' && salinityPsu > CLEARLY_NOT_FRESH_PSU) ||
    (water === 'salt' && salinityPsu < CLEARLY_NOT_SALT_PSU) ||
    (water === 'brackish' && (salinityPsu > CLEARLY_NOT_BRACKISH_PSU || salinityPsu <= 0))
  if (!isWrong) return null
  return { kind: 'water', about: berth, on: null, ...ask('water/contradiction', { berth, water, salinityPsu }) }
}

const CLEARLY_NOT_BRACKISH_PSU = 33
