import { Validator } from '@seriousme/openapi-schema-validator'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import manifest from '../../package.json' with { type: 'json' }
import { startTestServer, type TestServer } from './server.js'

interface Operation {
  summary?: string
  tags?: string[]
  responses: Record<string, { content?: Record<string, unknown> }>
  requestBody?: { content: Record<string, { schema: object }> }
}
interface ApiDocument {
  openapi: string
  tags: { name: string }[]
  paths: Record<string, Record<string, Operation>>
  components: { schemas: Record<string, object>; securitySchemes: Record<string, object> }
}

let server: TestServer
let document: ApiDocument & Record<string, unknown>
beforeAll(async () => {
  server = await startTestServer()
  document = (await server.app.inject('/v1/openapi.json')).json()
})
afterAll(() => server.close())

const operations = () =>
  Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ name: `${method.toUpperCase()} ${path}`, operation })),
  )

describe('the OpenAPI document', () => {
  it('is valid OpenAPI 3.1', async () => {
    // JSON Schema of the OpenAPI Initiative for 3.1, as @seriousme/openapi-schema-validator carries it.
    const validator = new Validator()
    const result = await validator.validate(structuredClone(document))
    expect(result.errors ?? []).toEqual([])
    expect(result.valid).toBe(true)
    expect(validator.version).toBe('3.1')
    expect(document.openapi).toMatch(/^3\.1\./)
  })

  it('tells the version of the package', () => {
    expect(document.info).toMatchObject({ version: manifest.version })
  })

  it('is refused by that validator when something is wrong with it', async () => {
    const broken = { ...structuredClone(document), paths: { boats: { get: { responses: 7 } } } }
    expect((await new Validator().validate(broken)).valid).toBe(false)
  })

  it('refers to nothing that is not in it', () => {
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)]
    expect(references.length).toBeGreaterThan(10)
    const missing = references.map(([, name = '']) => name).filter((name) => !(name in document.components.schemas))
    expect(missing).toEqual([])
  })

  it('describes every route under /v1 that can be called, with a summary and a tag of the list', () => {
    const described = new Set(operations().map((one) => one.name))
    const routes = server.app.guardedRoutes.filter(({ method, url }) => method !== 'HEAD' && url !== '/v1/openapi.json')
    const named = routes.map(({ method, url }) => `${method} ${url.replaceAll(/:(\w+)/g, '{$1}')}`)
    expect(named.filter((one) => !described.has(one))).toEqual([])
    const tags = new Set(document.tags.map((tag) => tag.name))
    const poor = operations().filter(
      ({ operation }) => !operation.summary || !operation.tags?.every((tag) => tags.has(tag)),
    )
    expect(poor.map((one) => one.name)).toEqual([])
  })

  it('tells of problems, of both ways to sign in, and of the header that makes repeating safe', () => {
    expect(Object.keys(document.components.securitySchemes)).toEqual(['apiKey', 'session'])
    for (const { operation } of operations()) {
      expect(Object.keys(operation.responses.default?.content ?? {})).toEqual(['application/problem+json'])
    }
    const post = JSON.stringify(document.paths['/v1/boats']?.post)
    expect(post).toContain('Idempotency-Key')
    expect(JSON.stringify(document.paths['/v1/boats/{boat}']?.patch)).toMatch(/if-match/i)
  })
})

describe('the page at /docs', () => {
  it('is served with scripts of its own only', async () => {
    const page = await server.app.inject('/docs/')
    expect(page.statusCode).toBe(200)
    expect(page.headers['content-type']).toMatch('text/html')
    expect(page.headers['content-security-policy']).toMatch("script-src 'self'")
    // A policy without 'unsafe-inline' for scripts: a script in the page itself would not run.
    expect(page.body).not.toMatch(/<script(?![^>]*\bsrc=)[^>]*>/)
    const scripts = [...page.body.matchAll(/src="([^"]+)"/g)].map(([, source = '']) => source)
    expect(scripts.length).toBeGreaterThan(0)
    for (const source of scripts) {
      const path = new URL(source, 'http://localhost/docs/').pathname
      expect((await server.app.inject(path)).statusCode).toBe(200)
    }
  })
})
