import { z } from 'zod'
import { GALVANIC_METALS, type GalvanicMetal } from '../engine/reference/galvanic-series.js'

const KEYS: ReadonlySet<string> = new Set(GALVANIC_METALS)

/** How many keys to offer to whoever wrote one that does not exist. */
const KEYS_OFFERED = 5

export function isMetal(text: string): text is GalvanicMetal {
  return KEYS.has(text)
}

/** A plain sentence for a metal that the galvanic series does not have, with the keys that come close. */
export function unknownMetal(text: string): string {
  return `"${text.slice(0, 60)}" is no metal of the galvanic series; close to it: ${closeMetals(text).join(', ')}`
}

/**
 * The keys nearest to what somebody wrote: those that share most of its letter pairs (Dice's coefficient).
 *
 * @example closeMetals('bronze') // tin-bronze-g-m, silicon-bronze, …
 */
export function closeMetals(text: string): GalvanicMetal[] {
  const wanted = letterPairs(text)
  const likeness = (key: string) => {
    const pairs = letterPairs(key)
    const shared = [...pairs].filter((pair) => wanted.has(pair)).length
    return (2 * shared) / (pairs.size + wanted.size || 1)
  }
  return GALVANIC_METALS.map((key) => ({ key, likeness: likeness(key) }))
    .sort((a, b) => b.likeness - a.likeness)
    .slice(0, KEYS_OFFERED)
    .map((candidate) => candidate.key)
}

/** Pairs of neighbouring letters, those with the edge of the text included: short words have few others. */
function letterPairs(text: string): Set<string> {
  const letters = text
    .slice(0, 60)
    .toLowerCase()
    .replaceAll(/[^a-z0-9]/g, '')
  return new Set([...letters, '$'].map((letter, at) => (at === 0 ? '^' : letters[at - 1]) + letter))
}

/** A key of the galvanic series in a request. */
export const Metal = z
  .string()
  .superRefine((text, context) => {
    if (!isMetal(text)) context.addIssue({ code: 'custom', message: unknownMetal(text) })
  })
  .meta({ description: 'A key of the galvanic series: see GET /v1/reference/metals', examples: ['manganese-bronze'] })

export const MetalView = z
  .object({
    key: z.string(),
    name: z.string(),
    group: z.string(),
    state: z.enum(['passive', 'active']).nullable(),
    lowVSce: z.number().meta({ description: 'Most negative free potential, V against saturated calomel' }),
    highVSce: z.number().meta({ description: 'Most positive free potential, V against saturated calomel' }),
    status: z.string(),
    note: z.string(),
  })
  .meta({ id: 'Metal' })
export type MetalView = z.infer<typeof MetalView>

export const MetalList = z.object({ items: z.array(MetalView) })
