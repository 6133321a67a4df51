import type { ObservedAnode } from '../../rates/mass-states.js'
import type { Evidence } from './evidence.js'
import { figure, median } from './figures.js'
import { volumeOf } from './fleet-view.js'
import { nameOf, type Scene } from './scene.js'

/** Of the usual mass: below this an anode is a smaller one. Convention, well below the next size sold. */
const SMALLER = 0.62
/** Of what other boats have at the position: boats differ, so less is asked. Convention. */
const MUCH_SMALLER = 0.4
const LEAST_OTHERS = 5

/** The scene's anodes when new, against what sat there before, else against what sits there on other boats. */
export function massFittedEvidence(scene: Scene): Evidence[] {
  if (scene.boats.length !== 1) return []
  const compared = scene.anodes.flatMap((anode) => {
    const own = anode.boat.observed?.anodes.find(({ history }) => history.key === anode.key)
    if (own === undefined) return []
    const before = volumeBefore(own, anode.boat.observed?.anodes ?? [])
    const usual = before ?? volumeElsewhere(own, scene)
    if (usual === null) return []
    const share = volumeOf(own) / usual
    return [{ name: nameOf(anode), share, isSmaller: share < (before === null ? MUCH_SMALLER : SMALLER) }]
  })
  if (compared.length === 0) return []
  const smaller = compared.filter(({ isSmaller }) => isSmaller)
  const isSmaller = smaller.length >= compared.length / 2
  const { name, share } = (isSmaller ? smaller : compared)[0]!
  const what = `${name} had ${figure(share)} of the usual size of its position when new.`
  return [{ observation: 'mass-fitted', state: isSmaller ? 'smaller' : 'usual', what }]
}

/** The typical volume that sat there before; `null` where it was the first. */
function volumeBefore(own: ObservedAnode, all: readonly ObservedAnode[]): number | null {
  const before = all.filter(
    (other) =>
      place(other) === place(own) && (other.history.fittedOn ?? -Infinity) < (own.history.fittedOn ?? -Infinity),
  )
  return before.length === 0 ? null : median(before.map(volumeOf))
}

function volumeElsewhere({ history }: ObservedAnode, { fleet }: Scene): number | null {
  const volumes = fleet.volumes.get(history.position) ?? []
  return volumes.length < LEAST_OTHERS ? null : median(volumes)
}

/** Positions of one kind are told apart by the words of the anode's name: "hull port 3" sits where "hull port 1" sat. */
function place({ history }: ObservedAnode): string {
  return `${history.position}\n${history.anode.replace(/[\d\s]+$/, '')}`
}
