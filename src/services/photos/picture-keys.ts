import type { PhotoSize } from '../../contract/photos.js'

/** The picture that a key of the photo store belongs to. */
export interface PictureOfKey {
  readonly organisationId: string
  readonly sha256: string
}

const KEY = /^([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})\/([0-9a-f]{64})\./

/** Where a picture lies: by organisation, under the hash of its bytes; its thumbnail beside it. */
export function pictureKey(organisationId: string, sha256: string, size: PhotoSize): string {
  return `${organisationId}/${sha256}.${size === 'full' ? 'webp' : 'thumb.webp'}`
}

/** Undefined for a key that is not ours; half-written files that a crash left belong to their picture. */
export function pictureOfKey(key: string): PictureOfKey | undefined {
  const [, organisationId, sha256] = KEY.exec(key) ?? []
  return organisationId !== undefined && sha256 !== undefined ? { organisationId, sha256 } : undefined
}
