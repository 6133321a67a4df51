import { connect, createServer, type Socket } from 'node:net'

/** A way to a server that can go silent, as a host without power or a network that drops packets: nothing is refused, nothing comes. */
export interface SwallowingProxy {
  /** The address it stands in for, by way of it. */
  readonly url: string
  swallow(): void
  /** New connections get through again; what was swallowed is lost. */
  letThrough(): void
  close(): void
}

export async function startSwallowingProxy(address: string): Promise<SwallowingProxy> {
  const url = new URL(address)
  const { port, hostname } = url
  const pairs = new Set<readonly [Socket, Socket]>()
  let swallows = false
  const proxy = createServer((client) => {
    // What comes is taken and goes nowhere: to its sender it has arrived.
    if (swallows) return void client.on('error', () => {}).resume()
    const server = connect(Number(port), hostname)
    client.pipe(server).pipe(client)
    const pair = [client, server] as const
    pairs.add(pair)
    client.on('close', () => pairs.delete(pair))
    for (const socket of pair) socket.on('error', () => {})
  })
  await new Promise<void>((resolve) => proxy.listen(0, '127.0.0.1', resolve))
  const listening = proxy.address()
  if (listening === null || typeof listening === 'string') throw new Error('the proxy has no port')
  url.hostname = '127.0.0.1'
  url.port = String(listening.port)
  return {
    url: url.href,
    swallow: () => {
      swallows = true
      for (const [client, server] of pairs) {
        client.unpipe().resume()
        server.unpipe().resume()
      }
    },
    letThrough: () => {
      swallows = false
    },
    close: () => {
      proxy.close()
      for (const [client, server] of pairs) {
        client.destroy()
        server.destroy()
      }
    },
  }
}
