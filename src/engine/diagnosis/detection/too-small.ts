import type { ObservedAnode } from '../../rates/mass-states.js'
import { isSpentWithinAYear } from '../evidence/spent.js'
import { type PracticeFinding, rankByPractice } from './practice.js'

/**
 * Anodes that were all but gone within about a year of their fitting: fast for their size, whatever their current. Whether they are
 * too small is for what is fitted elsewhere to say.
 *
 * @param places keys of the boat's anodes by place, in order of time
 * @param isKnown whether an anode's fast wear is part of an anomaly already
 */
export function findSpentEarly(
  boat: string,
  anodes: ReadonlyMap<string, ObservedAnode>,
  places: readonly (readonly string[])[],
  isKnown: (anode: string) => boolean,
): PracticeFinding[] {
  return places.flatMap((keys): PracticeFinding[] => {
    const spent = keys.filter((key) => isSpentWithinAYear(anodes.get(key)!))
    if (spent.length === 0 || keys.some(isKnown)) return []
    return [{ boat, scope: 'anode', anodes: spent, judgement: rankByPractice('fast', anodes.get(spent.at(-1)!)!) }]
  })
}
