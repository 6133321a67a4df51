import { randomUUID } from 'node:crypto'
import swagger from '@fastify/swagger'
import Fastify from 'fastify'
import { jsonSchemaTransform, serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { calculatorRoutes } from '../../../src/http/routes/calculators.js'
import { CALCULATORS } from '../../../src/services/calculators/registry.js'
import { Invalid } from '../../../src/services/errors.js'

const SOMEBODY = { organisationId: randomUUID(), actor: 'test', role: 'staff' } as const

const app = Fastify()

beforeAll(async () => {
  // Who asks is settled by the service's sign-in, which is not under test here.
  app.decorateRequest('actor', { getter: () => SOMEBODY })
  app.setValidatorCompiler(validatorCompiler).setSerializerCompiler(serializerCompiler)
  app.setErrorHandler((error, _request, reply) => {
    const errors = error instanceof Invalid ? error.errors : [{ pointer: '', detail: String(error) }]
    return reply.code(error instanceof Invalid ? 400 : 500).send({ errors })
  })
  await app.register(swagger, {
    openapi: { openapi: '3.1.0', info: { title: 'test', version: '0' } },
    transform: jsonSchemaTransform,
  })
  await app.register(calculatorRoutes)
  await app.ready()
})
afterAll(() => app.close())

describe('calculator routes', () => {
  it.each(CALCULATORS.map((entry) => [entry.name, entry] as const))(
    'POST %s answers as the registry does',
    async (name, entry) => {
      const response = await app.inject({ method: 'POST', url: `/v1/calculators/${name}`, payload: entry.example })
      expect(response.statusCode).toBe(200)
      expect(response.json()).toEqual(JSON.parse(JSON.stringify(entry.calculate(entry.example))))
    },
  )

  it('does not round', async () => {
    const payload = { volts: -0.123456789012345, from: 'sce', to: 'sce' }
    const response = await app.inject({ method: 'POST', url: '/v1/calculators/electrode', payload })
    expect(response.json()).toEqual({ volts: -0.123456789012345 })
  })

  it('refuses an unknown field and a missing body by name', async () => {
    const payload = { volts: -0.8, from: 'sce', to: 'cse', unit: 'mV' }
    const unknown = await app.inject({ method: 'POST', url: '/v1/calculators/electrode', payload })
    expect(unknown.statusCode).toBe(400)
    expect(unknown.json().errors).toEqual([{ pointer: '#/unit', detail: expect.stringContaining('unit') }])
    const empty = await app.inject({ method: 'POST', url: '/v1/calculators/electrode' })
    expect(empty.statusCode).toBe(400)
  })

  it('lists what there is', async () => {
    const { items } = (await app.inject('/v1/calculators')).json()
    expect(items.map((item: { name: string }) => item.name)).toEqual(CALCULATORS.map((entry) => entry.name))
    expect(items[0]).toMatchObject({ example: CALCULATORS[0]?.example, input: { type: 'object' } })
  })

  it('documents each with its fields and its example', () => {
    const { paths } = app.swagger() as { paths: Record<string, { post?: { tags: string[]; requestBody: unknown } }> }
    for (const entry of CALCULATORS) {
      const operation = paths[`/v1/calculators/${entry.name}`]?.post
      expect(operation?.tags).toEqual(['Calculators'])
      const [field] = Object.keys(entry.example)
      expect(JSON.stringify(operation?.requestBody)).toContain(`"${field}"`)
      expect(JSON.stringify(operation?.requestBody)).toContain('"example"')
    }
  })
})
