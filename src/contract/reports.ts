import { z } from 'zod'

export const ReportQuery = z.strictObject({
  haulOut: z.uuid().optional().meta({ description: 'The latest one that does not lie ahead, unless given' }),
})
