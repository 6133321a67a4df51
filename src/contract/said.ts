import { z } from 'zod'

/** A sentence as data: for programs, and to be worded in another language than the English of the text beside it. */
export const saidFields = {
  code: z.string().describe('Which sentence it is'),
  values: z
    .record(z.string(), z.union([z.string(), z.number()]))
    .describe('What stands in it: names as recorded, keys of the reference tables, figures as they were reckoned'),
}

export const SaidView = z
  .object(saidFields)
  .meta({ id: 'Sentence', description: 'A sentence by its code, with what stands in it' })
export type SaidView = z.infer<typeof SaidView>
