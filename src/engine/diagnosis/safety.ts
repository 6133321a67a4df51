import { SIGNS_AND_SAFETY } from '../reference/signs-and-safety.js'
import type { Cause } from './causes.js'
import type { RankedCause } from './diagnosis.js'
import type { Scene } from './evidence/scene.js'

/** A cause this likely is possible enough to warn of. Convention: on the safe side. */
const POSSIBLE = 0.05
const CURRENT: readonly Cause[] = ['stray-current-onboard', 'stray-current-shore']
const WEAKENED: readonly string[] = ['pitted', 'pink']

/** The cautions that must be shown with a diagnosis: of current in the water, of a weakened fitting, of magnesium where it does harm. */
export function safetyOf(scene: Scene, causes: readonly RankedCause[]): string[] {
  const isPossible = (cause: Cause) => causes.some((each) => each.cause === cause && each.probability >= POSSIBLE)
  const keys: string[] = []
  if (CURRENT.some(isPossible)) keys.push('electric-shock-drowning', 'rescue')
  if (isPossible('stray-current-shore')) keys.push('cutting-the-earth')
  if (hasWeakenedMetal(scene)) keys.push('thin-fitting')
  if (hasMagnesium(scene)) keys.push('magnesium-in-salt')
  return keys.map((key) => SIGNS_AND_SAFETY.find((rule) => rule.key === key)!.text)
}

function hasWeakenedMetal({ boats }: Scene): boolean {
  return boats.some(({ facts }) =>
    facts.anodes.some(({ looks }) =>
      looks.some(({ conditions }) => conditions.some((code) => WEAKENED.includes(code))),
    ),
  )
}

function hasMagnesium({ anodes, fleet, boats }: Scene): boolean {
  const isSalty = boats.some(({ facts }) =>
    facts.stays.some(({ berth }) => {
      const water = fleet.berths.get(berth ?? '')?.water
      return water === 'salt' || water === 'brackish'
    }),
  )
  return isSalty && anodes.some(({ history }) => history?.alloy === 'magnesium')
}
