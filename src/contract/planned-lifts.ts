import { z } from 'zod'
import { JobView } from './jobs.js'
import { Day, NameOrId } from './names.js'

const MOST_LIFTS = 1000
const EXAMPLE_ID = 'b0a9d2c4-7d0c-4b0e-9a93-0a4c1f1f9e55'

const Refit = JobView.nullable().meta({
  description: 'The job that makes the forecasts anew; null where nothing was changed',
})

export const NewPlannedLifts = z
  .strictObject({
    lifts: z
      .array(z.strictObject({ boat: NameOrId, on: Day }))
      .min(1)
      .max(MOST_LIFTS),
  })
  .meta({
    id: 'NewPlannedLifts',
    description: 'Lifts to put into the calendar: all of them, or none where one cannot be',
    examples: [{ lifts: [{ boat: 'Marsh Harrier', on: '2031-04-07' }] }],
  })
export type NewPlannedLifts = z.infer<typeof NewPlannedLifts>

export const PlannedLifts = z
  .object({
    written: z
      .array(z.object({ id: z.uuid(), boat: z.string(), on: z.iso.date(), version: z.int() }))
      .meta({ description: 'What to send back to take them out again' }),
    present: z.int().meta({ description: 'Lifts that were in the calendar already, left as they were' }),
    refit: Refit,
  })
  .meta({
    id: 'PlannedLifts',
    examples: [
      { written: [{ id: EXAMPLE_ID, boat: 'Marsh Harrier', on: '2031-04-07', version: 1 }], present: 0, refit: null },
    ],
  })
export type PlannedLifts = z.infer<typeof PlannedLifts>

export const PlannedLiftsToRemove = z
  .strictObject({
    lifts: z
      .array(z.strictObject({ id: z.uuid(), version: z.int().min(1) }))
      .min(1)
      .max(MOST_LIFTS),
  })
  .meta({ id: 'PlannedLiftsToRemove', examples: [{ lifts: [{ id: EXAMPLE_ID, version: 1 }] }] })
export type PlannedLiftsToRemove = z.infer<typeof PlannedLiftsToRemove>

export const PlannedLiftsRemoved = z
  .object({
    removed: z.int(),
    kept: z
      .array(z.object({ boat: z.string(), on: z.iso.date() }))
      .meta({ description: 'Changed or logged since, and so left as they are' }),
    refit: Refit,
  })
  .meta({ id: 'PlannedLiftsRemoved', examples: [{ removed: 1, kept: [], refit: null }] })
export type PlannedLiftsRemoved = z.infer<typeof PlannedLiftsRemoved>
