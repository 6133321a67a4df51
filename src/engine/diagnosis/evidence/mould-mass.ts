import type { ObservedAnode } from '../../rates/mass-states.js'
import { designAlloy } from '../../reference/anode-alloys.js'
import { ANODE_ALLOYS } from '../../reference/vocabulary.js'
import type { Evidence } from './evidence.js'
import { figure, median } from './figures.js'
import type { BoatView } from './fleet-view.js'
import { place } from './mass-fitted.js'
import { nameOf, observedAnode, type Scene } from './scene.js'

/** Castings of one mould weigh alike by this, on the log scale. Convention: alloys of one metal differ by a few percent, so do fillings. */
const ALIKE_LOG = 0.12
/** As large a difference, and it is another size rather than the same mould. Convention. */
const SAME_SIZE_LOG = 0.22

/**
 * Whether the scene's anodes weigh what the mould of their neighbours in time gives in another alloy: an aluminium anode of the mould of a
 * zinc one has 0.39 of its mass. Compared are anodes of the same place that are declared to be of the same alloy.
 */
export function mouldMassEvidence(scene: Scene): Evidence[] {
  if (scene.boats.length !== 1) return []
  const keys = new Set(scene.anodes.map(({ key }) => key))
  const judged = scene.anodes.flatMap((anode) => {
    const own = observedAnode(anode)
    const ratio = own === undefined ? null : ratioInPlace(own, anode.boat, keys)
    if (own === undefined || ratio === null) return []
    const state = judge(own, ratio)
    return state === null ? [] : [{ name: nameOf(anode), state, ratio }]
  })
  const another = judged.filter(({ state }) => state === 'another')
  const chosen = another.length >= judged.length / 2 ? another[0] : judged.find(({ state }) => state === 'declared')
  if (chosen === undefined) return []
  const { name, state, ratio } = chosen
  const as = state === 'another' ? 'as another alloy would in the same mould' : 'as the same mould gives'
  return [
    {
      observation: 'mould-mass',
      state,
      what: `${name} weighed ${figure(ratio)} of what else sat there when new, ${as}.`,
    },
  ]
}

/** Mass when new over that of others of its place that are not in question; `null` without any. */
function ratioInPlace(own: ObservedAnode, { observed }: BoatView, keys: ReadonlySet<string>): number | null {
  const others = (observed?.anodes ?? []).filter(
    (other) => !keys.has(other.history.key) && place(other) === place(own) && other.fitted.alloy === own.fitted.alloy,
  )
  return others.length === 0 ? null : own.fitted.netMassG / median(others.map(({ fitted }) => fitted.netMassG))
}

function judge({ fitted }: ObservedAnode, ratio: number): 'declared' | 'another' | null {
  if (Math.abs(Math.log(ratio)) <= SAME_SIZE_LOG) return 'declared'
  const declared = designAlloy(fitted.alloy ?? 'zinc').densityGPerCm3
  const fits = ANODE_ALLOYS.some((alloy) => {
    const log = Math.log(designAlloy(alloy).densityGPerCm3 / declared)
    return Math.abs(log) > SAME_SIZE_LOG && Math.abs(Math.log(ratio) - log) <= ALIKE_LOG
  })
  return fits ? 'another' : null
}
