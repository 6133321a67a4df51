import type { BoatView } from '../../../contract/boats.js'
import type { Water } from '../../../contract/vocabulary.js'
import { SIGNS_AND_SAFETY } from '../../../engine/reference/signs-and-safety.js'
import type english from '../../../messages/en/owner.json'
import type { DepletionAnode } from '../../api/depletion.js'
import type { Finding } from '../../api/findings.js'
import { cautionsOfBoat } from '../boat/cautions.js'

export type OwnerCaution = keyof typeof english.caution

/** The cautions that an owner must read, gravest first: `stop` where life or the boat is at stake. */
const GRADES: Readonly<Record<OwnerCaution, 'mind' | 'stop'>> = {
  'current-leak': 'stop',
  survey: 'stop',
  magnesium: 'stop',
  earth: 'stop',
  'not-working': 'mind',
  'no-paint': 'mind',
}

/** What the service's cautions of a finding are here, by their keys in the reference. */
const OF_SAFETY: Readonly<Record<string, OwnerCaution>> = {
  'electric-shock-drowning': 'current-leak',
  'thin-fitting': 'survey',
  'magnesium-in-salt': 'magnesium',
  'cutting-the-earth': 'earth',
}

interface Signs {
  readonly boat: Pick<BoatView, 'hull'>
  readonly water: Water | null
  readonly inPlace: readonly DepletionAnode[]
  readonly findings: readonly Finding[]
}

export function ownerCautions({ boat, water, inPlace, findings }: Signs) {
  const keys = new Set<string>([
    ...cautionsOfBoat({
      boat,
      water,
      alloys: inPlace.map(({ alloy }) => alloy),
      wear: [
        ...inPlace.flatMap(({ forecast }) => forecast?.wear?.judgement ?? []),
        ...findings.filter(({ direction }) => direction === 'slow').map(({ direction }) => direction),
      ],
      conditions: inPlace.flatMap(({ weighings }) => weighings.at(-1)?.conditions ?? []),
    }).map(({ key }) => key),
    ...findings.flatMap(({ safety }) => safety.flatMap(cautionOfText)),
  ])
  return (Object.keys(GRADES) as OwnerCaution[])
    .filter((key) => keys.has(key))
    .map((key) => ({ key, grade: GRADES[key] }))
}

function cautionOfText(text: string): OwnerCaution[] {
  const rule = SIGNS_AND_SAFETY.find((row) => row.text === text)
  const key = rule && OF_SAFETY[rule.key]
  return key === undefined ? [] : [key]
}
