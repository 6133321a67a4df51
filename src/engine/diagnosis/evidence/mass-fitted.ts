import type { ObservedAnode } from '../../rates/mass-states.js'
import type { Evidence } from './evidence.js'
import { figure, median } from './figures.js'
import { type BoatView, sizeOf, volumeOf } from './fleet-view.js'
import { nameOf, type Scene } from './scene.js'

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
    const own = anode.boat.observed?.anodes.find(({ history }) => history.key === anode.key)
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
  const what = `${name} had ${figure(share)} of the usual size of its position when new.`
  return [{ observation: 'mass-fitted', state: isSmaller ? 'smaller' : 'usual', what }]
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
  const size = sizeOf(observed!.history, own)
  const others = (fleet.sizes.get(own.history.position) ?? []).filter(({ boat }) => boat !== size.boat)
  const perDemand = others.flatMap((other) => other.perDemand ?? [])
  if (size.perDemand !== null && perDemand.length >= LEAST_OTHERS) {
    const share = size.perDemand / median(perDemand)
    return [{ share, isSmaller: share < MUCH_SMALLER }]
  }
  if (others.length < LEAST_OTHERS) return []
  const share = size.volumeCm3 / median(others.map(({ volumeCm3 }) => volumeCm3))
  return [{ share, isSmaller: share < FAR_SMALLER }]
}

/** Positions of one kind are told apart by the words of the anode's name: "hull port 3" sits where "hull port 1" sat. */
export function place({ history }: ObservedAnode): string {
  return `${history.position}\n${history.anode.replace(/[\d\s]+$/, '')}`
}
