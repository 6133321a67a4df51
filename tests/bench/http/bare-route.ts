import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'
import fastify from 'fastify'

export interface BareRoute {
  readonly address: string
  stop(): Promise<void>
}

/** Fastify by itself, in a process of its own, that answers with the same JSON as the service does: no hook, no schema, no database. */
export async function startBareRoute(answer: string): Promise<BareRoute> {
  const child = spawn(process.execPath, ['--import', 'tsx', fileURLToPath(import.meta.url)], {
    stdio: ['pipe', 'pipe', 'inherit'],
  })
  const ended = once(child, 'exit')
  child.stdin.end(answer)
  const [address] = (await once(child.stdout, 'data')) as [Buffer]
  return {
    address: address.toString().trim(),
    stop: async () => {
      child.kill()
      await ended
    },
  }
}

async function serve(): Promise<void> {
  let answer = ''
  for await (const part of process.stdin) answer += part
  const content: unknown = JSON.parse(answer)
  const app = fastify()
  app.get('/', async () => content)
  console.log(await app.listen({ host: '127.0.0.1', port: 0 }))
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await serve()
