import type { NewPriceList, Price } from '../../src/contract/prices.js'
import { countParts, type Part } from '../../src/engine/planning/count-parts.js'

/** Invented, as all of the harbour: what a casting costs at least, and each kilogram of it. */
const CASTING = { zinc: [9, 17], aluminium: [11, 34], magnesium: [14, 41] } as const
const LIFT = 210
/** Five years of history, and one rise of prices in it. */
const BEGUN_YEARS_AGO = 6
const RISE_YEARS_AGO = 2
const RISE = 1.12
const GRAMS_PER_KG = 1000

/** The harbour's price list: each part that was ever fitted, then and since prices rose. */
export function priceList(fitted: readonly Part[], today: string): NewPriceList {
  const yearsAgo = (years: number) => `${Number(today.slice(0, 4)) - years}-01-01`
  const kinds = countParts(fitted).flatMap(({ alloy, shape, massG }) =>
    alloy === null || massG === null ? [] : { alloy, shape, massG, amount: amountOf(alloy, massG) },
  )
  const at = (since: string, rise: number): Price[] => [
    { kind: 'lift', since, amount: rounded(LIFT * rise) },
    ...kinds.map(({ amount, ...part }) => ({ kind: 'part' as const, ...part, since, amount: rounded(amount * rise) })),
  ]
  return { currency: 'EUR', prices: [...at(yearsAgo(BEGUN_YEARS_AGO), 1), ...at(yearsAgo(RISE_YEARS_AGO), RISE)] }
}

function amountOf(alloy: keyof typeof CASTING, massG: number): number {
  const [least, eachKg] = CASTING[alloy]
  return least + (eachKg * massG) / GRAMS_PER_KG
}

/** As shops write prices: to ten cents. */
const rounded = (amount: number) => Math.round(amount * 10) / 10
