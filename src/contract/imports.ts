import { z } from 'zod'
import { CSV_FILE_NAMES } from './csv/index.js'
import { JobView } from './jobs.js'
import { CONFIRMABLE_DOUBTS } from './weighings.js'

export const ImportQuery = z.strictObject({
  dryRun: z
    .enum(['true', 'false'])
    .default('false')
    .transform((given) => given === 'true')
    .meta({ description: '`true` only checks: the same answer and the same errors, nothing is written' }),
  confirm: z
    .string()
    .transform((list) => list.split(',').map((code) => code.trim()))
    .pipe(z.array(z.enum(CONFIRMABLE_DOUBTS)))
    .optional()
    .meta({
      description: `Doubts about weighings that somebody has looked into, \`,\` between them: ${CONFIRMABLE_DOUBTS.join(', ')}`,
      examples: ['heavier-than-before'],
    }),
})
export type ImportQuery = z.infer<typeof ImportQuery>

/** What became of one file's rows. */
export const ImportCounts = z
  .object({
    rows: z.int().meta({ description: 'Rows below the header' }),
    created: z.int(),
    updated: z.int(),
    unchanged: z.int(),
  })
  .meta({ id: 'ImportCounts', examples: [{ rows: 150, created: 148, updated: 2, unchanged: 0 }] })
export type ImportCounts = z.infer<typeof ImportCounts>

/** How many bad cells are told one by one. */
export const MOST_ERRORS_TOLD = 200

/** A bad cell, or a bad row where `column` is null, or a bad file where `line` is null too. */
export const ImportError = z
  .object({
    file: z.string().meta({ examples: ['weighings.csv'] }),
    line: z
      .int()
      .nullable()
      .meta({ description: 'Line of the text file; the header is line 1', examples: [17] }),
    column: z
      .string()
      .nullable()
      .meta({ examples: ['mass_g'] }),
    detail: z.string().meta({ examples: ['"1,5" has a comma: write the decimals after a point'] }),
    pointer: z.string().meta({ examples: ['#/weighings.csv/17/mass_g'] }),
  })
  .meta({ id: 'ImportError' })
export type ImportError = z.infer<typeof ImportError>

export const ImportAnswer = z
  .object({
    dryRun: z.boolean(),
    files: z.partialRecord(z.enum(CSV_FILE_NAMES), ImportCounts),
    questions: z.array(ImportError).meta({
      description:
        'Weighings that were let in but look wrong, such as an anode that gained mass: was it replaced? In short files, or where there are many, they are errors instead',
    }),
    refit: JobView.nullable().meta({ description: 'The refit this import leads to; null for a dry run' }),
  })
  .meta({ id: 'ImportAnswer' })
export type ImportAnswer = z.infer<typeof ImportAnswer>
