import { z } from 'zod'
import { JOB_STATES } from './vocabulary.js'

/** Work in the background, as a caller follows it. */
export const JobView = z
  .object({
    id: z.uuid(),
    kind: z.string().meta({ examples: ['refit'] }),
    state: z.enum(JOB_STATES),
    progress: z.number().min(0).max(1).meta({ description: 'Share done' }),
    step: z
      .string()
      .nullable()
      .meta({ description: 'What is being done, in words', examples: ['fitting the rates'] }),
    error: z.string().nullable(),
    createdAt: z.iso.datetime(),
    startedAt: z.iso.datetime().nullable(),
    finishedAt: z.iso.datetime().nullable(),
  })
  .meta({ id: 'Job' })
export type JobView = z.infer<typeof JobView>
