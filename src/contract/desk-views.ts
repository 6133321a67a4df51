import { z } from 'zod'

const LONGEST_NAME = 80
const LONGEST_QUERY = 2000

const ViewName = z.string().trim().min(1).max(LONGEST_NAME)
const ViewQuery = z
  .string()
  .max(LONGEST_QUERY)
  .regex(/^[\x20-\x7e]*$/, 'must be a query string')
  .meta({ description: 'The query string of the page: tab, filters, order' })

export const NewSavedView = z
  .strictObject({ name: ViewName, query: ViewQuery, isDefault: z.boolean().default(false) })
  .meta({ id: 'NewSavedView', examples: [{ name: 'Pontoon A, zinc', query: 'pontoon=A&alloy=zinc', isDefault: true }] })
export type NewSavedView = z.infer<typeof NewSavedView>

export const SavedViewChange = z
  .strictObject({ name: ViewName.optional(), query: ViewQuery.optional(), isDefault: z.boolean().optional() })
  .meta({ id: 'SavedViewChange', examples: [{ name: 'Spring lifts' }] })
export type SavedViewChange = z.infer<typeof SavedViewChange>

export const SavedView = z
  .object({
    id: z.uuid(),
    name: z.string(),
    query: z.string(),
    isDefault: z.boolean().meta({ description: 'Opened first; at most one of a person' }),
    version: z.int(),
  })
  .meta({ id: 'SavedView' })
export type SavedView = z.infer<typeof SavedView>

export const SavedViews = z.object({ items: z.array(SavedView) })
export const SavedViewParams = z.object({ view: z.uuid() })
