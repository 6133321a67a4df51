import { z } from 'zod'
import { ForecastItem } from './forecasts.js'
import { Day, NameOrId } from './names.js'

const LONGEST_PLAN = 50

/** What might be planned for a boat, from today on. */
export const WhatIf = z
  .strictObject({
    stays: z
      .array(
        z.strictObject({
          fromOn: Day,
          toOn: Day.nullable().default(null).meta({ description: 'Day of leaving; null goes on' }),
          berth: NameOrId.nullable().meta({ description: 'Name of a berth; null is ashore' }),
        }),
      )
      .max(LONGEST_PLAN)
      .default([])
      .meta({ description: 'In order; after the last one the boat stays where it is then' }),
    haulOuts: z.array(Day).max(LONGEST_PLAN).default([]).meta({ description: 'Lifts beside those planned already' }),
  })
  .meta({
    id: 'WhatIf',
    examples: [{ stays: [{ fromOn: '2031-10-01', toOn: '2032-04-01', berth: null }], haulOuts: ['2031-10-01'] }],
  })
export type WhatIf = z.infer<typeof WhatIf>

/** The forecasts of a boat as things stand, and as planned. */
export const WhatIfAnswer = z
  .object({
    boat: z.string(),
    asOf: z.iso.date(),
    anodes: z.array(z.object({ anode: z.string(), position: z.string(), now: ForecastItem, planned: ForecastItem })),
  })
  .meta({ id: 'WhatIfAnswer' })
export type WhatIfAnswer = z.infer<typeof WhatIfAnswer>
