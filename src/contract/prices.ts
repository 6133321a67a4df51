import { z } from 'zod'
import { Day } from './names.js'
import { ALLOYS } from './vocabulary.js'

const MOST_PRICES = 500
const LARGEST_AMOUNT = 1_000_000

/** ISO 4217: three letters. Which of them are in use, the reader's own system knows. */
const Currency = z
  .string()
  .regex(/^[A-Z]{3}$/, 'must be three capital letters such as EUR (ISO 4217)')
  .meta({ examples: ['EUR'] })

const Amount = z
  .number()
  .min(0)
  .max(LARGEST_AMOUNT)
  .refine((amount) => Math.abs(amount * 100 - Math.round(amount * 100)) < 1e-6, 'must have two decimals at most')
  .meta({ description: 'In the currency of the list', examples: [38.5] })

const PART = {
  alloy: z.enum(ALLOYS).nullable().meta({ description: 'Null: any' }),
  shape: z.string().trim().min(1).max(80).nullable().meta({ description: 'Null: any' }),
  massG: z.number().positive().max(1e6).nullable().meta({ description: 'When new, with its core; null: any' }),
}

const Since = Day.meta({ description: 'The price holds from this day on, until the next of the same' })

export const Price = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('lift'), since: Since, amount: Amount }),
  z.strictObject({ kind: z.literal('part'), ...PART, since: Since, amount: Amount }),
])
export type Price = z.infer<typeof Price>

const EXAMPLE: Price[] = [
  { kind: 'lift', since: '2026-01-01', amount: 240 },
  { kind: 'part', alloy: 'zinc', shape: 'shaft collar', massG: 1200, since: '2026-01-01', amount: 38.5 },
]

export const PriceList = z.object({ currency: z.string().nullable(), prices: z.array(Price), version: z.int() }).meta({
  id: 'PriceList',
  description: 'What lifts and parts cost; empty, with version 0, before anybody has said',
  examples: [{ currency: 'EUR', prices: EXAMPLE, version: 3 }],
})
export type PriceList = z.infer<typeof PriceList>

export const NewPriceList = z.strictObject({ currency: Currency, prices: z.array(Price).max(MOST_PRICES) }).meta({
  id: 'NewPriceList',
  description: 'The whole list, in the place of the one before',
  examples: [{ currency: 'EUR', prices: EXAMPLE }],
})
export type NewPriceList = z.infer<typeof NewPriceList>

const CostLine = z.object({
  on: z.iso.date(),
  kind: z.enum(['lift', 'part']),
  anode: z.string().nullable().meta({ description: 'Name; null for a lift, and for a part that is not ordered yet' }),
  ...PART,
  amount: z.number().nullable().meta({ description: 'Null where no price of that day is known' }),
})
export type CostLine = z.infer<typeof CostLine>

const CostSum = z.object({
  total: z.number().meta({ description: 'Of the lines that have a price' }),
  unpriced: z.int().meta({ description: 'Lines without a price: the total is too small by them' }),
  lines: z.array(CostLine),
})
export type CostSum = z.infer<typeof CostSum>

export const BoatCosts = z
  .object({
    currency: z.string().nullable(),
    soFar: CostSum.meta({ description: 'Lifts and fittings on record, the latest first' }),
    nextLift: CostSum.extend({ on: z.iso.date(), planned: z.boolean() })
      .nullable()
      .meta({ description: 'The next lift with the parts to have at hand; null where no anode has a forecast' }),
  })
  .meta({
    id: 'BoatCosts',
    examples: [
      {
        currency: 'EUR',
        soFar: {
          total: 278.5,
          unpriced: 0,
          lines: [
            {
              on: '2026-03-20',
              kind: 'part',
              anode: 'shaft 3',
              alloy: 'zinc',
              shape: 'shaft collar',
              massG: 1190,
              amount: 38.5,
            },
            { on: '2026-03-20', kind: 'lift', anode: null, alloy: null, shape: null, massG: null, amount: 240 },
          ],
        },
        nextLift: null,
      },
    ],
  })
export type BoatCosts = z.infer<typeof BoatCosts>
