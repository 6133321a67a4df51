import { z } from 'zod'

const Sizes = z.object({
  BENCH_BOATS: z.coerce.number().int().min(20).default(2000),
  /** Rows of the import. */
  BENCH_WEIGHINGS: z.coerce.number().int().min(100).default(200_000),
  /** Of each kind in each round. */
  BENCH_REQUESTS: z.coerce.number().int().min(10).default(300),
  BENCH_ROUNDS: z.coerce.number().int().min(1).default(5),
  BENCH_AT_ONCE: z.coerce.number().int().min(1).default(8),
  /** Of the load under which memory is watched. */
  MINUTES: z.coerce.number().positive().default(60),
  BENCH_PER_SECOND: z.coerce.number().positive().default(5),
  /** A database that `npm run bench -- large` filled with one organisation: copied, so that none need be filled. */
  BENCH_FLEET_URL: z.string().optional(),
  /** Where the service's processes leave their profiles. */
  BENCH_PROFILES: z.string().optional(),
})

/** How large a run is, by the environment: a minute's or an hour's. */
export function readSizes() {
  const sizes = Sizes.parse(process.env)
  return {
    boats: sizes.BENCH_BOATS,
    weighings: sizes.BENCH_WEIGHINGS,
    requests: sizes.BENCH_REQUESTS,
    rounds: sizes.BENCH_ROUNDS,
    atOnce: sizes.BENCH_AT_ONCE,
    minutes: sizes.MINUTES,
    perSecond: sizes.BENCH_PER_SECOND,
    fleetUrl: sizes.BENCH_FLEET_URL,
    profiles: sizes.BENCH_PROFILES,
  }
}

export type Sizes = ReturnType<typeof readSizes>
