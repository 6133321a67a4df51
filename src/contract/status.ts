import { z } from 'zod'

/** For how long back failures are counted [d]: what was before a week ago has been seen. */
export const FAILURES_OF_DAYS = 7
/** The interval that forecasts report first: from p10 to p90. */
const COVERAGE_LEVEL = 0.8

const Count = z.int().min(0)
const Instant = z.iso.datetime({ offset: true })
const Share = z.number().min(0).max(1).nullable()

const Queue = {
  waiting: Count,
  failed: Count.meta({ description: `Given up, of the last ${FAILURES_OF_DAYS} days` }),
  oldestWaitingSince: Instant.nullable().meta({ description: 'Since when the oldest that waits has waited' }),
}
const JobQueue = z.object({ kind: z.string(), ...Queue, working: Count })

const LastFit = z.object({
  asOf: z.iso.date(),
  fittedAt: Instant,
  seconds: z.number().nullable().meta({ description: 'How long the job took; null where it is not known' }),
  intervals: Count.meta({ description: 'Rows of the model: intervals between two weighings' }),
  anodes: Count,
  boats: Count,
})

const Coverage = z.object({
  level: z.number().meta({ description: 'Probability that the interval claims' }),
  share: Share.meta({ description: 'Share of the weighings inside it' }),
  low: Share.meta({ description: 'Interval of 90 % for that share (Wilson)' }),
  high: Share,
  scored: Count.meta({ description: 'Past forecasts that a later weighing has judged' }),
  weighings: Count.meta({ description: 'Weighings that judged, the newest 2000' }),
})

const Installation = z.object({
  version: z.string(),
  node: z.string(),
  startedAt: Instant.meta({ description: 'Since when the process that answers runs' }),
  database: z.object({
    kind: z.enum(['embedded', 'server']),
    version: z.string().meta({ description: 'Of PostgreSQL' }),
    bytes: Count.nullable().meta({ description: 'Null where other organisations have their data in it too' }),
    migrations: Count.meta({ description: 'How many have been applied' }),
    newestMigration: z.string(),
  }),
  photoStore: z.enum(['folder', 'bucket']),
  mailServer: z.boolean().meta({ description: 'Whether letters go to a mail server; else they are printed' }),
  away: z.array(z.string()).readonly().meta({ description: 'Parts that do not answer just now' }),
  lastBackupAt: Instant.nullable().meta({
    description: 'Of which moment the newest backup is; null where none is known',
  }),
})

/** How the service does: the organisation's own work, and the installation as far as that tells nothing of anybody else. */
export const StatusView = z
  .object({
    jobs: z.array(JobQueue).readonly().meta({ description: 'Of the organisation, by kind' }),
    letters: z.object(Queue),
    webhooks: z.object(Queue),
    lastFit: LastFit.nullable().meta({ description: 'Null before the first' }),
    coverage: Coverage.nullable().meta({ description: 'Null before a weighing has judged a forecast' }),
    installation: Installation,
  })
  .meta({
    id: 'Status',
    examples: [
      {
        jobs: [{ kind: 'refit', waiting: 1, working: 0, failed: 0, oldestWaitingSince: '2031-04-18T09:30:00Z' }],
        letters: { waiting: 0, failed: 2, oldestWaitingSince: null },
        webhooks: { waiting: 0, failed: 0, oldestWaitingSince: null },
        lastFit: {
          asOf: '2031-04-18',
          fittedAt: '2031-04-18T02:10:03Z',
          seconds: 4.2,
          intervals: 1240,
          anodes: 320,
          boats: 80,
        },
        coverage: { level: COVERAGE_LEVEL, share: 0.81, low: 0.78, high: 0.84, scored: 610, weighings: 410 },
        installation: {
          version: '0.1.0',
          node: '20.20.2',
          startedAt: '2031-04-01T05:00:00Z',
          database: {
            kind: 'server',
            version: '15.18',
            bytes: 48_234_496,
            migrations: 16,
            newestMigration: '0015_passkeys',
          },
          photoStore: 'folder',
          mailServer: true,
          away: [],
          lastBackupAt: '2031-04-18T03:30:00Z',
        },
      },
    ],
  })
export type StatusView = z.infer<typeof StatusView>
