import type { GalvanicCautionKey } from '../reference/galvanic-cautions.js'
import { type GalvanicMetal, galvanicMetal, type MetalGroup } from '../reference/galvanic-series.js'
import type { BoatFitting, GalvanicBoat } from './boat-metals.js'
import type { Connections } from './connections.js'
import type { Couple } from './couple.js'

/** A caution that a boat gives reason for, and which parts do. No parts: the boat as a whole. */
export interface RaisedCaution {
  readonly key: GalvanicCautionKey
  readonly parts: readonly string[]
}

const DEZINCIFYING: readonly GalvanicMetal[] = ['yellow-brass', 'naval-brass', 'manganese-bronze']
const INHIBITED_AT_BEST: readonly GalvanicMetal[] = ['admiralty-brass', 'aluminium-brass']

/** The cautions that a boat's metals, anodes and readings give reason for; see `GALVANIC_CAUTIONS`. */
export function cautionsFor(
  boat: GalvanicBoat,
  connections: Connections,
  pairs: readonly (Couple & { readonly paintedAnode: readonly string[] })[],
): readonly RaisedCaution[] {
  const named = (key: GalvanicCautionKey, parts: readonly string[]) =>
    parts.length === 0 ? [] : [{ key, parts: [...new Set(parts)] }]
  return [
    ...named('stainless-without-oxygen', ofGroup(boat.fittings, 'stainless')),
    ...named('dezincification', ofMetals(boat.fittings, DEZINCIFYING)),
    ...named('inhibited-brass', ofMetals(boat.fittings, INHIBITED_AT_BEST)),
    ...named('carbon', ofGroup(boat.fittings, 'carbon')),
    ...named('copper-on-aluminium', copperByAluminium(boat)),
    ...(boat.hull === 'aluminium' ? [{ key: 'copper-antifouling', parts: [] } as const] : []),
    ...named(
      'painted-anode',
      pairs.filter(({ grade }) => grade !== 'compatible').flatMap(({ paintedAnode }) => paintedAnode),
    ),
    ...named('mixed-alloys', mixedAlloys(connections)),
    ...named(
      'open-bond',
      connections.openBonds.map(({ from, to }) => (from === 'bond' ? to : from)),
    ),
    ...named('connected-though-unbonded', connections.joinedThoughUnbonded),
    ...(boat.water === 'fresh' ? [{ key: 'fresh-water', parts: [] } as const] : []),
  ]
}

function ofGroup(fittings: readonly BoatFitting[], group: MetalGroup): string[] {
  return fittings
    .filter(({ metal }) => metal !== null && galvanicMetal(metal).group === group)
    .map(({ fitting }) => fitting)
}

function ofMetals(fittings: readonly BoatFitting[], metals: readonly GalvanicMetal[]): string[] {
  return fittings.filter(({ metal }) => metal !== null && metals.includes(metal)).map(({ fitting }) => fitting)
}

/** Copper alloys on a boat with aluminium in the water, unless both are known to be kept apart. */
function copperByAluminium({ hull, fittings }: GalvanicBoat): string[] {
  const joined = fittings.filter(({ bonded }) => bonded !== false)
  const hasAluminium = hull === 'aluminium' || ofGroup(joined, 'aluminium').length > 0
  return hasAluminium ? ofGroup(joined, 'copper') : []
}

function mixedAlloys({ systems }: Connections): string[] {
  return systems.flatMap(({ anodes }) => {
    const known = anodes.filter(({ alloy }) => alloy !== null)
    return new Set(known.map(({ alloy }) => alloy)).size > 1 ? known.map(({ anode }) => anode) : []
  })
}
