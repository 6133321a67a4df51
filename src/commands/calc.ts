import { json } from 'node:stream/consumers'
import { CALCULATORS, calculatorNamed } from '../services/calculators/registry.js'
import { Invalid, NotFound } from '../services/errors.js'

/** Problem details (RFC 9457) of what went wrong; a status belongs to HTTP and is left out. */
function problemOf(error: unknown): Record<string, unknown> {
  const type = 'about:blank'
  if (error instanceof Invalid) return { type, title: 'Invalid input', detail: error.message, errors: error.errors }
  if (error instanceof NotFound) {
    const names = CALCULATORS.map((entry) => entry.name).join(', ')
    return { type, title: 'Not found', detail: `${error.message}; there are ${names}` }
  }
  if (error instanceof SyntaxError) return { type, title: 'Invalid JSON', detail: error.message }
  throw error
}

/** `npm run -s calc -- NAME`: JSON on standard input, JSON on standard output. Without a name, the names. */
async function main(name: string | undefined): Promise<void> {
  if (name === undefined) {
    for (const entry of CALCULATORS) process.stdout.write(`${entry.name}\t${entry.summary}\n`)
    return
  }
  try {
    const { calculate } = calculatorNamed(name)
    process.stdout.write(`${JSON.stringify(calculate(await json(process.stdin)))}\n`)
  } catch (error) {
    process.stderr.write(`${JSON.stringify(problemOf(error))}\n`)
    process.exitCode = 1
  }
}

await main(process.argv[2])
