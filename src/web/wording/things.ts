import { type Alloy, CONDITIONS, type Condition, type Hull, type WeighingMethod } from '../../contract/vocabulary.js'
import english from '../../messages/en/words.json' with { type: 'json' }
import { currentLocale } from './locale.js'
import { sayWord } from './spoken.js'

/** An alloy in the middle of a sentence; nothing where none is on record. @example sayAlloy('zinc') // 'zinc' */
export function sayAlloy(alloy: Alloy | null): string | null {
  return alloy === null ? null : sayWord(`alloy.${alloy}`)
}

/** A shape as the trade calls it; one that has no name here is said as it was recorded. */
export function sayShape(shape: string | null): string | null {
  return shape !== null && isOf(english.shape, shape) ? sayWord(`shape.${shape}`) : shape
}

export const sayHull = (hull: Hull): string => sayWord(`hull.${hull}`)

export const sayMethod = (method: WeighingMethod): string => sayWord(`method.${method}`)

/** Where an anode sits: its label begins with a kind of position, and what follows is the yard's own. */
export function sayPosition(label: string): string {
  const kinds = Object.keys(english.position) as (keyof typeof english.position)[]
  const kind = kinds.find((each) => label.toLowerCase().startsWith(each))
  return kind === undefined ? label : `${sayWord(`position.${kind}`)}${label.slice(kind.length)}`
}

/** Every sign that can be seen, by its code. */
export function conditionWords(): Readonly<Record<Condition, string>> {
  return Object.fromEntries(CONDITIONS.map((code) => [code, sayWord(`condition.${code}`)])) as Record<Condition, string>
}

/** What was seen, in words; a code of a newer service is said as it is. @example sayConditions(['even']) // 'even wear' */
export function sayConditions(codes: readonly string[]): string {
  return codes.map((code) => within(isOf(english.condition, code) ? sayWord(`condition.${code}`) : code)).join(', ')
}

/** A word as it stands in the middle of a sentence: German keeps the capitals of its nouns. */
export function within(word: string): string {
  return currentLocale().startsWith('de') ? word : word.charAt(0).toLocaleLowerCase(currentLocale()) + word.slice(1)
}

/** @example capital('shaft') // 'Shaft' */
export function capital(text: string): string {
  return text.charAt(0).toLocaleUpperCase(currentLocale()) + text.slice(1)
}

export function isOf<Words extends object>(list: Words, key: string): key is keyof Words & string {
  return Object.hasOwn(list, key)
}
