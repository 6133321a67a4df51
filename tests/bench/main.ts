/** Benches by name: `npm run bench -- engine`. Each prints its figures; none is part of the tests. */
const BENCHES: Readonly<Record<string, (args: readonly string[]) => Promise<void>>> = {
  engine: async () => (await import('./engine.js')).engine(),
  coverage: async (args) => (await import('./coverage.js')).coverage(args),
}

const [name = '', ...args] = process.argv.slice(2)
const bench = BENCHES[name]
if (bench) await bench(args)
else {
  console.error(`usage: npm run bench -- ${Object.keys(BENCHES).join(' | ')}`)
  process.exitCode = 2
}
