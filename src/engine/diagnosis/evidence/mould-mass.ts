import type { Casting } from './castings.js'
import type { Evidence } from './evidence.js'
import { figure } from './figures.js'
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
  return [
    {
      observation: 'mould-mass',
      state: stateOf(casting),
      what: `${name} weighed ${figure(casting.ratio)} of what else sat there when new, ${AS[stateOf(casting)]}.`,
    },
  ]
}

const AS = {
  declared: 'as the same mould gives',
  another: 'as another alloy would in the same mould',
  'another-together': 'as another alloy would in the same mould, and so did others fitted with it',
} as const

function stateOf({ weighsAs, isTogether }: Casting): keyof typeof AS {
  return isTogether ? 'another-together' : weighsAs
}
