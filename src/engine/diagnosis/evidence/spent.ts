import type { ObservedAnode } from '../../rates/mass-states.js'
import { type Evidence, evidence } from './evidence.js'
import { nameOf, observedAnode, type Scene } from './scene.js'

/** All but gone: beyond any wasting threshold in use. Row `replace-at-chandlery` and a margin. */
const SPENT = 0.75
/** About a year in place, with the slack of a yearly lift. Row `under-one-year`. */
const YEAR_DAYS = 420
/** Shorter than this and what is gone broke off or burnt away; it says nothing of the size. Convention. */
const LEAST_DAYS = 60

/** Whether the scene's anodes were all but gone within about a year of their fitting. */
export function spentEvidence(scene: Scene): Evidence[] {
  if (scene.boats.length !== 1) return []
  const judged = scene.anodes.flatMap((anode) => {
    const observed = observedAnode(anode)
    const first = observed?.states[0]
    if (observed === undefined || first === undefined || !observed.fromFitting) return []
    const spent = spentEarly(observed)
    const last = observed.states[observed.states.length - 1]!
    if (spent === undefined && last.on - first.on < YEAR_DAYS / 2) return []
    return [{ name: nameOf(anode), days: spent === undefined ? null : spent.on - first.on }]
  })
  const [spent] = judged.flatMap(({ name, days }) => (days === null ? [] : [{ anode: name, days }]))
  const [any] = judged
  if (any === undefined) return []
  if (spent === undefined) return [evidence('spent', 'lasts', 'spent/lasts', { anode: any.name })]
  return [evidence('spent', 'within-a-year', 'spent/within-a-year', spent)]
}

/** Whether an anode weighed from its fitting on was all but gone within about a year, beyond the error of the weighing. */
export function isSpentWithinAYear(anode: ObservedAnode): boolean {
  const spent = anode.fromFitting ? spentEarly(anode) : undefined
  return spent !== undefined && spent.consumption - Math.sqrt(spent.variance) >= SPENT * anode.fitted.netMassG
}

function spentEarly({ states, fitted }: ObservedAnode): ObservedAnode['states'][number] | undefined {
  const fittedOn = states[0]!.on
  return states
    .slice(1)
    .filter(({ on }) => on - fittedOn >= LEAST_DAYS && on - fittedOn <= YEAR_DAYS)
    .find(({ consumption }) => consumption >= SPENT * fitted.netMassG)
}
