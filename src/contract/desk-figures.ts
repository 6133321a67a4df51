import { z } from 'zod'

export const Share = z.number().min(0).max(1)

/** Beyond thirty years a date is not told. */
export const DayOrNever = z.iso.date().nullable()
