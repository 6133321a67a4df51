import { type Evidence, evidence } from './evidence.js'
import { nameOf, type Scene } from './scene.js'

/** Whether the scene's anodes weigh what the mould of their places gives in another alloy, and those fitted with them too. */
export function mouldMassEvidence(scene: Scene): Evidence[] {
  if (scene.boats.length !== 1) return []
  const judged = scene.anodes.flatMap((anode) => {
    const casting = anode.boat.castings.get(anode.key)
    return casting === undefined ? [] : [{ name: nameOf(anode), casting }]
  })
  const another = judged.filter(({ casting }) => casting.weighsAs === 'another')
  const together = another.find(({ casting }) => casting.isTogether)
  const isMost = another.length > 0 && another.length >= judged.length / 2
  const chosen = isMost ? (together ?? another[0]) : judged.find(({ casting }) => casting.weighsAs === 'declared')
  if (chosen === undefined) return []
  const { name, casting } = chosen
  const state = casting.isTogether ? 'another-together' : casting.weighsAs
  return [evidence('mould-mass', state, `mould-mass/${state}`, { anode: name, share: casting.ratio })]
}
