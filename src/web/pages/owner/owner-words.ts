import type { TFunction } from 'i18next'
import { useTranslation } from 'react-i18next'
import type { CountedPart } from '../../../engine/planning/count-parts.js'
import english from '../../../messages/en/owner.json' with { type: 'json' }
import englishWords from '../../../messages/en/words.json' with { type: 'json' }
import { addEnglish } from '../../i18n/words.js'
import { sayPartMass } from '../../wording/amounts.js'

addEnglish('owner', english)
addEnglish('words', englishWords)

export type OwnerWords = TFunction<['owner', 'words']>

/** The words of the owner's page. */
export function useOwnerWords(): OwnerWords {
  return useTranslation(['owner', 'words']).t
}

/** @example sayPart({ alloy: 'zinc', shape: 'shaft collar', massG: 1200, count: 2 }, t) // '1.20 kg zinc, shaft collar' */
export function sayPart({ alloy, shape, massG }: CountedPart, t: OwnerWords): string {
  const said = {
    alloy: alloy === null ? t('order.noAlloy') : t(`alloy.${alloy}`, { ns: 'words' }),
    shape: shape === null ? t('order.noShape') : wordOr(english.shape, shape, (key) => t(`shape.${key}`)),
  }
  return massG === null ? t('order.noMass', said) : t('order.part', { ...said, mass: sayPartMass(massG) })
}

/** Where an anode sits: its label begins with a kind of position, and what follows is the yard's own. */
export function sayPosition(label: string, t: OwnerWords): string {
  const kinds = Object.keys(englishWords.position) as (keyof typeof englishWords.position)[]
  const kind = kinds.find((each) => label.toLowerCase().startsWith(each))
  return kind === undefined ? label : `${t(`position.${kind}`, { ns: 'words' })}${label.slice(kind.length)}`
}

/** A word of a list by its key; what the list does not have is said as it stands. */
export function wordOr<Words extends object>(
  list: Words,
  key: string,
  say: (key: keyof Words & string) => string,
): string {
  return Object.hasOwn(list, key) ? say(key as keyof Words & string) : key
}
