import type { Water } from '../../src/engine/reference/vocabulary.js'

export interface Berth {
  berth: string
  pontoon: string
  water: Water
  salinityPsu: number
  latitude: number
  longitude: number
  shorePower: boolean
}

interface Pontoon {
  letter: string
  name: string
  water: Water
  /** Salinity at the first and at the last berth: up-river it falls from berth to berth. */
  salinityPsu: readonly [number, number]
  origin: readonly [latitude: number, longitude: number]
  berths: number
  shorePower: boolean
}

/**
 * Merrowby Haven on the Ilvane estuary: neither is on any chart. The position is open water west of the mouth of a
 * channel, so that no real harbour is meant, yet the seasons of a temperate coast apply.
 */
const PONTOONS: readonly Pontoon[] = [
  // The walk-ashore pontoon below the harbour office: yachts and cruisers on shore power.
  pontoon('A', 'Lantern', 'salt', [34.4, 34.1], [49.6212, -7.8533], 14, true),
  // The same cable feeds the whole of Gannet; its fault is one of the stories.
  pontoon('B', 'Gannet', 'salt', [34.2, 33.8], [49.6221, -7.8519], 14, true),
  // The outer wall, in the stream, without power: work boats, the tug, visitors.
  pontoon('C', 'Bellwall', 'salt', [34.8, 34.6], [49.6203, -7.8561], 12, false),
  // Two miles up the river, where each tide brings some salt.
  pontoon('D', 'Withy Reach', 'brackish', [13.5, 8], [49.6418, -7.8214], 10, true),
  // The old dock behind its lock, fed by a stream.
  pontoon('E', 'Lock Basin', 'fresh', [0.3, 0.2], [49.6239, -7.8476], 10, true),
]

/** Berths kept free of residents: the last two or three of each pontoon. */
export const VISITOR_BERTHS: Readonly<Record<string, readonly string[]>> = {
  A: ['A13', 'A14'],
  C: ['C10', 'C11', 'C12'],
  D: ['D09', 'D10'],
  E: ['E09', 'E10'],
}

export const BERTHS: readonly Berth[] = PONTOONS.flatMap((p) =>
  Array.from({ length: p.berths }, (_, index) => {
    const along = index / (p.berths - 1)
    return {
      berth: `${p.letter}${String(index + 1).padStart(2, '0')}`,
      pontoon: p.name,
      water: p.water,
      salinityPsu: Number((p.salinityPsu[0] + along * (p.salinityPsu[1] - p.salinityPsu[0])).toFixed(1)),
      latitude: Number((p.origin[0] + index * 0.00006).toFixed(5)),
      longitude: Number((p.origin[1] + index * 0.00011).toFixed(5)),
      shorePower: p.shorePower,
    }
  }),
)

const byName = new Map(BERTHS.map((berth) => [berth.berth, berth]))

/** @throws RangeError if the harbour has no such berth */
export function berthNamed(name: string): Berth {
  const berth = byName.get(name)
  if (berth === undefined) throw new RangeError(`no berth ${name} in the harbour`)
  return berth
}

function pontoon(
  letter: string,
  name: string,
  water: Water,
  salinityPsu: Pontoon['salinityPsu'],
  origin: Pontoon['origin'],
  berths: number,
  shorePower: boolean,
): Pontoon {
  return { letter, name, water, salinityPsu, origin, berths, shorePower }
}
