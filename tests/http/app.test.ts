import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { startTestServer, type TestServer } from './server.js'

let server: TestServer
beforeAll(async () => {
  server = await startTestServer()
})
afterAll(() => server.close())

describe('the service', () => {
  it('is ready once the database answers', async () => {
    const answer = await server.app.inject('/health/ready')
    expect(answer.statusCode).toBe(200)
    expect(answer.json()).toEqual({ status: 'ok' })
  })
})
