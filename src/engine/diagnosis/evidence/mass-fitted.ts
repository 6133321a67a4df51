import type { ObservedAnode } from '../../rates/mass-states.js'
import { type Evidence, evidence } from './evidence.js'
import { median, medianWithout } from './figures.js'
import { type BoatView, sizeOf, volumeOf } from './fleet-view.js'
import { place } from './places-of-anodes.js'
import { nameOf, observedAnode, type Scene } from './scene.js'

/** Of the usual mass: below this an anode is a smaller one. Convention, well below the next size sold. */
const SMALLER = 0.62
/** Of what other boats of as large a demand have at the position: boats differ, so less is asked. Convention. */
const MUCH_SMALLER = 0.5
/** Of what other boats have there, whatever their size. Convention. */
const FAR_SMALLER = 0.4
const LEAST_OTHERS = 5

/** The scene's anodes when new, against what sat there before, and what sits there on other boats. */
export function massFittedEvidence(scene: Scene): Evidence[] {
  if (scene.boats.length !== 1) return []
  const compared = scene.anodes.flatMap((anode) => {
    const own = observedAnode(anode)
    if (own === undefined) return []
    // Bought too small from the first on, an anode is as large as what sat there before.
    const comparisons = [...shareOfBefore(own, anode.boat), ...shareElsewhere(own, anode.boat, scene)]
    const telling = comparisons.find(({ isSmaller }) => isSmaller) ?? comparisons[0]
    return telling === undefined ? [] : [{ name: nameOf(anode), ...telling }]
  })
  if (compared.length === 0) return []
  const smaller = compared.filter(({ isSmaller }) => isSmaller)
  const isSmaller = smaller.length >= compared.length / 2
  const { name, share } = (isSmaller ? smaller : compared)[0]!
  return [evidence('mass-fitted', isSmaller ? 'smaller' : 'usual', 'mass-fitted', { anode: name, share })]
}

interface Compared {
  readonly share: number
  readonly isSmaller: boolean
}

/** The share of what typically sat there before; nothing where it was the first. */
function shareOfBefore(own: ObservedAnode, { observed }: BoatView): Compared[] {
  const before = (observed?.anodes ?? []).filter(
    (other) =>
      place(other) === place(own) && (other.history.fittedOn ?? -Infinity) < (own.history.fittedOn ?? -Infinity),
  )
  if (before.length === 0) return []
  const share = volumeOf(own) / median(before.map(volumeOf))
  return [{ share, isSmaller: share < SMALLER }]
}

/** The share of what sits there on other boats: for their demand where it is known of enough of them. */
function shareElsewhere(own: ObservedAnode, { observed }: BoatView, { fleet }: Scene): Compared[] {
  const all = fleet.sizes.get(own.history.position)
  if (all === undefined) return []
  const size = sizeOf(observed!.history, own)
  // The boat's own are no measure of themselves.
  const mine = observed!.anodes
    .filter(({ history }) => history.position === own.history.position)
    .map((anode) => sizeOf(observed!.history, anode))
  const demands = mine.flatMap(({ perDemand }) => perDemand ?? [])
  if (size.perDemand !== null && all.perDemand.length - demands.length >= LEAST_OTHERS) {
    const share = size.perDemand / medianWithout(all.perDemand, demands)
    return [{ share, isSmaller: share < MUCH_SMALLER }]
  }
  if (all.volumes.length - mine.length < LEAST_OTHERS) return []
  const volumes = mine.map(({ volumeCm3 }) => volumeCm3)
  const share = size.volumeCm3 / medianWithout(all.volumes, volumes)
  return [{ share, isSmaller: share < FAR_SMALLER }]
}
