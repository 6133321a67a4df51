import { z } from 'zod'
import { LANGUAGES } from '../messages/languages.js'

export const ReportQuery = z.strictObject({
  haulOut: z.uuid().optional().meta({ description: 'The latest one that does not lie ahead, unless given' }),
  language: z
    .enum(LANGUAGES)
    .optional()
    .meta({ description: 'As the person behind the request prefers, unless given' }),
})
