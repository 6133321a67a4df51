import type { z } from 'zod'
import { type WhatIf, WhatIfAnswer } from '../../contract/what-if.js'
import { send } from './http.js'

export type PlannedAnode = WhatIfAnswer['anodes'][number]

/** Asks what planned stays and lifts would do to a boat's dates. Nothing is kept. */
export function askWhatIf(boat: string, body: z.input<typeof WhatIf>): Promise<WhatIfAnswer> {
  return send(WhatIfAnswer, `/v1/boats/${encodeURIComponent(boat)}/what-if`, { body })
}
