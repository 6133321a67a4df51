import { LARGEST_PHOTO_BYTES, PHOTO_MEDIA_TYPES, PHOTO_SIDE_PX } from '../../contract/photos.js'

const QUALITY = 0.85

/** A picture that this browser cannot read and the service would not take. */
export class UnreadablePhoto extends Error {
  constructor(cause?: unknown) {
    super('The picture cannot be read.', { cause })
    this.name = 'UnreadablePhoto'
  }
}

/**
 * The size at which a picture is kept: its longer side as the service keeps it, never larger than it is.
 *
 * @example fitted(8000, 6000) // { width: 1600, height: 1200 }
 */
export function fitted(width: number, height: number): { width: number; height: number } {
  const scale = Math.min(1, PHOTO_SIDE_PX / Math.max(width, height))
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) }
}

/**
 * Scales a picture down to what the service keeps, upright and without what the camera wrote along: a camera's full size
 * would fill the phone and the bad line.
 *
 * @throws UnreadablePhoto
 */
export async function shrinkPhoto(file: File): Promise<Blob> {
  const url = URL.createObjectURL(file)
  try {
    // An image element is read at the size it is drawn in where the browser can: less memory than a bitmap of the whole.
    const image = new Image()
    image.src = url
    await image.decode()
    return await drawn(image)
  } catch (error) {
    if (isTaken(file)) return file
    throw new UnreadablePhoto(error)
  } finally {
    URL.revokeObjectURL(url)
  }
}

async function drawn(image: HTMLImageElement): Promise<Blob> {
  const { width, height } = fitted(image.naturalWidth, image.naturalHeight)
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const context = canvas.getContext('2d')
  if (context === null) throw new UnreadablePhoto()
  context.imageSmoothingQuality = 'high'
  context.drawImage(image, 0, 0, width, height)
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', QUALITY))
  if (blob === null) throw new UnreadablePhoto()
  return blob
}

/** Whether the service may make something of it though the browser could not. */
function isTaken({ type, size }: File): boolean {
  return size <= LARGEST_PHOTO_BYTES && PHOTO_MEDIA_TYPES.some((known) => known === type)
}
