import type { NewPriceList, Price, PriceList } from '../../../contract/prices.js'
import type { Alloy } from '../../../contract/vocabulary.js'
import { parseNumber } from '../../wording/typed-number.js'

/** A price as it is typed. */
export interface PriceDraft {
  readonly id: number
  readonly kind: Price['kind']
  readonly alloy: Alloy | null
  readonly shape: string
  readonly massG: string
  readonly since: string
  readonly amount: string
}

export interface ListDraft {
  readonly currency: string
  readonly prices: readonly PriceDraft[]
}

/** A field of a row that cannot be read. */
export interface Unread {
  readonly id: number
  readonly field: 'massG' | 'amount'
}

export type ReadList =
  | { readonly kind: 'list'; readonly list: NewPriceList }
  | { readonly kind: 'unread'; readonly fields: readonly Unread[] }

export function draftOf({ currency, prices }: PriceList): ListDraft {
  return { currency: currency ?? '', prices: prices.map(rowOf) }
}

function rowOf(price: Price, id: number): PriceDraft {
  const { kind, since, amount } = price
  const part = price.kind === 'part' ? price : { alloy: null, shape: null, massG: null }
  const { alloy, shape, massG } = part
  return {
    id,
    kind,
    alloy,
    shape: shape ?? '',
    massG: massG === null ? '' : String(massG),
    since,
    amount: amount.toFixed(2),
  }
}

/** A row more, numbered past all others. */
export function withPrice(prices: readonly PriceDraft[], kind: Price['kind'], today: string): PriceDraft[] {
  const id = 1 + Math.max(-1, ...prices.map((price) => price.id))
  return [...prices, { id, kind, alloy: null, shape: '', massG: '', since: today, amount: '' }]
}

/** Lifts first, as they are shown: the service's errors name rows by their place. */
export function inOrder(prices: readonly PriceDraft[]): PriceDraft[] {
  return [...prices.filter(({ kind }) => kind === 'lift'), ...prices.filter(({ kind }) => kind === 'part')]
}

export function readList({ currency, prices }: ListDraft): ReadList {
  const fields: Unread[] = []
  const read = inOrder(prices).map(({ id, kind, alloy, shape, massG, since, amount }): Price => {
    const cost = parseNumber(amount) ?? Number.NaN
    if (!(cost >= 0) || Math.abs(cost * 100 - Math.round(cost * 100)) > 1e-6) fields.push({ id, field: 'amount' })
    const mass = parseNumber(massG)
    if (mass !== null && !(mass > 0)) fields.push({ id, field: 'massG' })
    if (kind === 'lift') return { kind, since, amount: cost }
    return { kind, alloy, shape: shape.trim() === '' ? null : shape.trim(), massG: mass, since, amount: cost }
  })
  if (fields.length > 0) return { kind: 'unread', fields }
  return { kind: 'list', list: { currency: currency.trim().toUpperCase(), prices: read } }
}
