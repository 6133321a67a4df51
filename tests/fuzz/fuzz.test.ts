import { afterAll, beforeAll, expect, it } from 'vitest'
import { fuzz } from './run.js'
import { type FuzzedYard, startFuzzedYard } from './yard.js'

/** Of every run of the tests; `npm run fuzz` sends more, by a seed of its own. */
const REQUESTS = Number(process.env.FUZZ_REQUESTS ?? 2000)
const SEED = Number(
  process.env.FUZZ_SEED ?? (process.env.FUZZ_REQUESTS ? Math.floor(Math.random() * 2 ** 31) : 20_310_418),
)
/** A request takes some 10 ms on a machine that does nothing else. */
const PATIENCE_MS = 60_000 + REQUESTS * 200

let yard: FuzzedYard
beforeAll(async () => {
  yard = await startFuzzedYard()
})
afterAll(() => yard.close())

it(
  `answers ${REQUESTS} valid, near-valid and hostile requests as its own document says (seed ${SEED})`,
  async () => {
    const report = await fuzz(yard, REQUESTS, SEED)
    console.log(String(report))
    expect(report.requests).toBe(REQUESTS)
    expect(report.faults).toEqual([])
  },
  PATIENCE_MS,
)
