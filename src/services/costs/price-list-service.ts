import type { NewPriceList, Price, PriceList } from '../../contract/prices.js'
import type { Db } from '../../db/client.js'
import { inOrganisation } from '../../db/in-organisation.js'
import { findPriceList, lockPriceList, type PriceRow, replacePriceList } from '../../db/repositories/prices.js'
import type { Actor } from '../actor.js'
import { Invalid, Stale } from '../errors.js'

const CENTS = 100

/** What an organisation's lifts and parts cost. */
export class PriceListService {
  readonly #db: Db

  constructor(db: Db) {
    this.#db = db
  }

  read(actor: Actor): Promise<PriceList> {
    return inOrganisation(this.#db, actor, (tx) => readPriceList(tx, actor.organisationId))
  }

  /** @throws Stale where somebody else has changed it since; Invalid where a thing has two prices from one day on */
  replace(actor: Actor, expectedVersion: number, list: NewPriceList): Promise<PriceList> {
    refuseTwice(list.prices)
    return inOrganisation(this.#db, actor, async (tx) => {
      const version = await lockPriceList(tx, actor.organisationId)
      if (version !== expectedVersion) throw new Stale('the price list')
      await replacePriceList(tx, actor.organisationId, {
        currency: list.currency,
        version: version + 1,
        prices: list.prices.map(rowOf),
      })
      return readPriceList(tx, actor.organisationId)
    })
  }
}

async function readPriceList(tx: Db, organisationId: string): Promise<PriceList> {
  const list = await findPriceList(tx, organisationId)
  if (list === undefined) return { currency: null, prices: [], version: 0 }
  return { ...list, prices: list.prices.map(priceOf) }
}

function rowOf(price: Price): PriceRow {
  const { kind, since } = price
  const part = price.kind === 'part' ? price : { alloy: null, shape: null, massG: null }
  const { alloy, shape, massG } = part
  return { kind, alloy, shape, massG, since, cents: Math.round(price.amount * CENTS) }
}

function priceOf({ kind, alloy, shape, massG, since, cents }: PriceRow): Price {
  const amount = cents / CENTS
  return kind === 'lift' ? { kind, since, amount } : { kind, alloy, shape, massG, since, amount }
}

function refuseTwice(prices: readonly Price[]): void {
  const seen = new Map<string, number>()
  const errors = prices.flatMap((price, index) => {
    const { cents: _, ...thing } = rowOf(price)
    const key = JSON.stringify(thing)
    const first = seen.get(key)
    seen.set(key, first ?? index)
    return first === undefined
      ? []
      : {
          pointer: `#/prices/${index}/since`,
          detail: `the same has a price from ${price.since} on already: number ${first + 1}`,
        }
  })
  if (errors.length > 0) throw new Invalid(errors)
}
