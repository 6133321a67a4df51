import type { z } from 'zod'
import type { LoggedHaulOut, NewHaulOut } from '../../../contract/haul-outs.js'
import { addPhoto, logHaulOut } from '../../api/haul-outs.js'
import { t } from './haul-out-words.js'

/** A haul-out as it was logged, and the photos that did not get through. */
export interface Logged {
  readonly haulOut: LoggedHaulOut
  readonly photosAdded: number
  readonly photosRefused: readonly { readonly photo: File; readonly reason: string }[]
}

interface Logging {
  readonly boat: string
  readonly body: z.input<typeof NewHaulOut>
  readonly idempotencyKey: string
  readonly photos: ReadonlyMap<string, readonly File[]>
}

/** Logs the haul-out, then sends its photos one by one. A photo that is refused leaves the rest as logged. */
export async function logWithPhotos({ boat, body, idempotencyKey, photos }: Logging): Promise<Logged> {
  const haulOut = await logHaulOut(boat, body, idempotencyKey)
  const refused: { photo: File; reason: string }[] = []
  let added = 0
  for (const [index, { photo, of }] of photosToSend(haulOut, photos).entries()) {
    try {
      await addPhoto(of, photo, `${idempotencyKey}-${index}`)
      added++
    } catch (error) {
      refused.push({ photo, reason: error instanceof Error ? error.message : t('notAccepted') })
    }
  }
  return { haulOut, photosAdded: added, photosRefused: refused }
}

function photosToSend({ weighings, id }: LoggedHaulOut, photos: Logging['photos']) {
  return [...photos].flatMap(([anode, files]) => {
    const weighing = weighings.find((each) => each.anode === anode)
    const path = weighing ? (`weighings/${weighing.id}` as const) : (`haul-outs/${id}` as const)
    return files.map((photo) => ({ photo, of: path }))
  })
}
