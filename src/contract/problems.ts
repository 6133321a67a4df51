import { z } from 'zod'

/** One field that cannot be accepted. */
export const ProblemField = z
  .object({
    pointer: z.string().meta({
      description: 'JSON pointer into the part of the request that `in` names (RFC 6901, as a fragment)',
      examples: ['#/weighings/0/massG'],
    }),
    detail: z.string().meta({ examples: ['massG must be above 0'] }),
    in: z.enum(['body', 'query', 'path', 'headers']).optional(),
  })
  .catchall(z.unknown())
  .meta({ id: 'ProblemField', description: 'A field that cannot be accepted; an import adds file, line and column' })

/** RFC 9457 problem document: every answer with a status of 400 or more. */
export const Problem = z
  .object({
    type: z.string().meta({ examples: ['about:blank'] }),
    title: z.string().meta({ examples: ['Unprocessable Entity'] }),
    status: z.int().min(400).max(599),
    detail: z
      .string()
      .optional()
      .meta({ examples: ['massG must be above 0'] }),
    instance: z
      .string()
      .optional()
      .meta({ examples: ['/v1/boats/Wren/haul-outs'] }),
    errors: z.array(ProblemField).optional(),
  })
  .catchall(z.unknown())
  .meta({ id: 'Problem', description: 'Problem document (RFC 9457)' })
export type Problem = z.infer<typeof Problem>
