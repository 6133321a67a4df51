import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { source } from '../../engine/reference/sources.js'
import type { Calculator } from '../../services/calculators/calculator.js'
import { CALCULATORS } from '../../services/calculators/registry.js'
import { requires } from '../auth/requires.js'

/** Rows of a mixed model are long; the other calculators need a few hundred bytes. */
const BODY_LIMIT = 4 << 20

const CalculatorList = z.object({
  items: z.array(
    z.object({
      name: z.string(),
      summary: z.string(),
      sources: z.array(z.object({ key: z.string(), title: z.string(), read: z.string() })),
      example: z.record(z.string(), z.unknown()),
      input: z.record(z.string(), z.unknown()).describe('JSON Schema of the request'),
      output: z.record(z.string(), z.unknown()).describe('JSON Schema of the answer'),
    }),
  ),
})

/** One POST a calculator, and their list. They read and write nothing; anybody who is somebody here may ask. */
export const calculatorRoutes: FastifyPluginAsyncZod = async (app) => {
  const items = CALCULATORS.map(listed)
  app.get(
    '/v1/calculators',
    {
      preHandler: requires('fleet:read'),
      schema: { tags: ['Calculators'], summary: 'All calculators', response: { 200: CalculatorList } },
    },
    async () => ({ items }),
  )
  for (const { name, summary, input, output, example, calculate } of CALCULATORS) {
    app.post(
      `/v1/calculators/${name}`,
      {
        preHandler: requires('fleet:read'),
        bodyLimit: BODY_LIMIT,
        config: { onlyComputes: true },
        schema: {
          tags: ['Calculators'],
          summary,
          body: input.meta({ examples: [example] }),
          response: { 200: output },
        },
        // The calculator parses: the command and the route then refuse in the same words.
        validatorCompiler: () => (value) => ({ value }),
      },
      async (request) => calculate(request.body),
    )
  }
}

function listed({ name, summary, sources, example, input, output }: Calculator) {
  const schemas = { input: z.toJSONSchema(input, { io: 'input' }), output: z.toJSONSchema(output) }
  return { name, summary, sources: sources.map(source), example, ...schemas }
}
