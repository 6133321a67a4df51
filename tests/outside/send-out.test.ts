import { createServer, type RequestListener, type Server } from 'node:http'
import { afterEach, describe, expect, it } from 'vitest'
import { AddressRules } from '../../src/outside/web/address-rules.js'
import { NotReached, RefusedAddress, type Resolve, SendOut } from '../../src/outside/web/send-out.js'

const servers: Server[] = []
afterEach(() => {
  for (const server of servers.splice(0)) {
    server.closeAllConnections()
    server.close()
  }
})

async function serve(listener: RequestListener): Promise<number> {
  const server = createServer(listener)
  servers.push(server)
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  const address = server.address()
  return typeof address === 'object' && address ? address.port : 0
}

const here = new AddressRules(['127.0.0.1'])
const message = { headers: { 'content-type': 'text/plain' }, body: 'hello' }
const to =
  (address: string): Resolve =>
  async () => [{ address, family: 4 }]

describe('what is sent out', () => {
  it('arrives with its headers, and the answer begins as it does', async () => {
    let seen: unknown
    const port = await serve((request, response) => {
      const chunks: Buffer[] = []
      request.on('data', (chunk: Buffer) => chunks.push(chunk))
      request.on('end', () => {
        seen = [request.method, request.url, request.headers['content-type'], Buffer.concat(chunks).toString()]
        response.end('thanks')
      })
    })
    const answer = await new SendOut(here).post({ url: `http://127.0.0.1:${port}/in?x=1`, ...message })
    expect(answer).toEqual({ status: 200, start: 'thanks' })
    expect(seen).toEqual(['POST', '/in?x=1', 'text/plain', 'hello'])
  })

  it('goes to the address that was looked at, and the host is asked for once', async () => {
    const port = await serve((request, response) => response.end(request.headers.host))
    const asked: string[] = []
    // A name that leads to an allowed address at first, and to another one afterwards.
    const resolve: Resolve = async (host) => {
      asked.push(host)
      return [{ address: asked.length === 1 ? '127.0.0.1' : '127.0.0.9', family: 4 }]
    }
    const { start } = await new SendOut(here, { resolve }).post({ url: `http://office.test:${port}/`, ...message })
    expect(start).toBe(`office.test:${port}`)
    expect(asked).toEqual(['office.test'])
  })

  it.each([
    ['http://127.0.0.1:1/', undefined],
    ['http://[::1]:1/', undefined],
    ['http://[::ffff:127.0.0.1]:1/', undefined],
    ['http://2130706433/', undefined],
    ['http://0x7f.1/', undefined],
    ['https://office.test/', '192.168.1.4'],
    ['https://office.test/', '169.254.169.254'],
  ])('does not go to %s (%s)', async (url, address) => {
    const sendOut = new SendOut(new AddressRules([]), address ? { resolve: to(address) } : {})
    await expect(sendOut.post({ url, ...message })).rejects.toThrow(RefusedAddress)
  })

  it('does not go to a host of which one address is within', async () => {
    const resolve: Resolve = async () => [
      { address: '9.9.9.9', family: 4 },
      { address: '10.0.0.1', family: 4 },
    ]
    const sendOut = new SendOut(new AddressRules([]), { resolve })
    await expect(sendOut.check('https://office.test/')).rejects.toThrow('not in the public network')
  })

  it('goes into the public network by https only', async () => {
    const sendOut = new SendOut(here, { resolve: to('9.9.9.9') })
    await expect(sendOut.check('http://office.test/')).rejects.toThrow('https only')
    await expect(sendOut.check('https://office.test/')).resolves.toHaveLength(1)
  })

  it('follows no redirect', async () => {
    let followed = false
    const port = await serve((request, response) => {
      if (request.url === '/inner') followed = true
      response.writeHead(307, { location: '/inner' }).end()
    })
    const answer = await new SendOut(here).post({ url: `http://127.0.0.1:${port}/`, ...message })
    expect(answer.status).toBe(307)
    expect(followed).toBe(false)
  })

  it('waits for an answer so long and no longer, for its head and for its body', async () => {
    const silent = await serve(() => {})
    const slow = await serve((_, response) => {
      response.write('a')
    })
    const sendOut = new SendOut(here, { limitMs: 300 })
    for (const port of [silent, slow]) {
      const began = performance.now()
      await expect(sendOut.post({ url: `http://127.0.0.1:${port}/`, ...message })).rejects.toThrow('in time')
      expect(performance.now() - began).toBeLessThan(3_000)
    }
  })

  it('reads the beginning of an endless answer', async () => {
    let sent = 0
    const port = await serve((_, response) => {
      const more = () => {
        while (response.write('x'.repeat(4096))) sent += 4096
      }
      response.on('drain', more).on('error', () => {})
      more()
    })
    const { status, start } = await new SendOut(here).post({ url: `http://127.0.0.1:${port}/`, ...message })
    expect(status).toBe(200)
    expect(start).toBe('x'.repeat(500))
    expect(sent).toBeLessThan(64 * 1024 * 1024)
  })

  it('says why nothing came', async () => {
    const port = await serve((request) => request.socket.destroy())
    const sendOut = new SendOut(here, { limitMs: 2_000 })
    await expect(sendOut.post({ url: `http://127.0.0.1:${port}/`, ...message })).rejects.toThrow('cut off')
    const closed = await serve(() => {})
    await new Promise((done) => servers.pop()!.close(done))
    await expect(sendOut.post({ url: `http://127.0.0.1:${closed}/`, ...message })).rejects.toThrow('nobody listens')
    // Fetch standard, "port blocking": 6000 is a screen's.
    await expect(sendOut.post({ url: 'http://127.0.0.1:6000/', ...message })).rejects.toThrow('its port')
    const nowhere = new SendOut(here, { resolve: async () => [] })
    await expect(nowhere.post({ url: 'https://nowhere.test/', ...message })).rejects.toThrow(NotReached)
  })
})
