import { drawAnodePhoto } from '../drawing/draw-anode-photo.js'
import { type PhotoOrder, photosFor } from '../scenario/photos.js'
import type { ServiceClient } from './client.js'

interface WeighingPage {
  readonly items: readonly { readonly id: string; readonly anode: string; readonly weighedOn: string }[]
}

/** Draws the photos and uploads each to its weighing, one after another: the page is up, and a visitor comes first. */
export async function loadPhotos(client: ServiceClient, fleet: ReadonlyMap<string, string>): Promise<void> {
  for (const [variant, order] of photosFor(fleet).entries()) {
    const weighing = await weighingOf(client, order)
    const form = new FormData()
    const picture = await drawAnodePhoto({ ...order, variant })
    form.append('photo', new Blob([new Uint8Array(picture)], { type: 'image/jpeg' }), 'anode.jpg')
    await client.post(`/v1/weighings/${weighing}/photos`, form)
  }
}

async function weighingOf(client: ServiceClient, { boat, anode, weighedOn }: PhotoOrder): Promise<string> {
  const query = new URLSearchParams({ boat, anode, from: weighedOn, to: weighedOn })
  const { items } = await client.get<WeighingPage>(`/v1/weighings?${query}`)
  const [weighing] = items
  if (weighing === undefined) throw new Error(`no weighing of ${boat}, ${anode} on ${weighedOn}`)
  return weighing.id
}
