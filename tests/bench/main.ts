/** Benches by name: `npm run bench -- engine`. Each prints its figures; none is part of the tests. */
const BENCHES: Readonly<Record<string, () => Promise<{ run(args: readonly string[]): Promise<void> }>>> = {
  engine: () => import('./engine.js'),
  coverage: () => import('./coverage.js'),
  diagnosis: () => import('./diagnosis.js'),
  web: () => import('./web.js'),
  screens: () => import('./screens.js'),
  large: () => import('./large.js'),
  http: () => import('./http.js'),
  memory: () => import('./memory.js'),
  growth: () => import('./growth.js'),
}

const [name = '', ...args] = process.argv.slice(2)
const bench = BENCHES[name]
if (bench) await (await bench()).run(args)
else {
  console.error(`usage: npm run bench -- ${Object.keys(BENCHES).join(' | ')}`)
  process.exitCode = 2
}
