import { newKey } from '../api/request-key.js'
import { ofDraft } from './outbox.js'
import { shrinkPhoto } from './shrink-photo.js'
import { phoneStore, type StoredPhoto, writeOrMakeRoom } from './store.js'

/** Photos of a form that is being filled in: they outlive the tab. */
export async function photosOfDraft(boat: string): Promise<StoredPhoto[]> {
  return (await phoneStore()).getAllFromIndex('photos', 'of', ofDraft(boat))
}

/** Scales a photo and keeps it. @throws UnreadablePhoto, PhoneFull */
export async function keepPhoto(boat: string, anode: string, file: File): Promise<void> {
  const blob = await shrinkPhoto(file)
  const name = file.name.replace(/\.\w+$/, '') || 'photo'
  const photo = { id: newKey(), of: ofDraft(boat), anode, name: `${name}.${EXTENSIONS[blob.type] ?? 'jpg'}`, blob }
  await writeOrMakeRoom(async () => (await phoneStore()).put('photos', photo))
}

const EXTENSIONS: Readonly<Record<string, string>> = { 'image/png': 'png', 'image/webp': 'webp' }

export async function dropPhoto(id: string): Promise<void> {
  await (await phoneStore()).delete('photos', id)
}

export async function dropPhotosOfDraft(boat: string): Promise<void> {
  for (const { id } of await photosOfDraft(boat)) await dropPhoto(id)
}
