import { z } from 'zod'
import { NameOrId } from './names.js'
import { pageOf, pageQuery } from './paging.js'

/** Kinds of pictures that are taken, as media types: what a file field should accept. */
export const PHOTO_MEDIA_TYPES = ['image/jpeg', 'image/png', 'image/webp'] as const

/** Largest file of one photo: more than any phone's camera writes. */
export const LARGEST_PHOTO_BYTES = 25 * 1024 * 1024
/** Most pixels of one photo; a picture of this size takes up to 200 MB while it is read. */
export const MOST_PHOTO_PIXELS = 50_000_000
/** Longer side of a stored photo [px]. */
export const PHOTO_SIDE_PX = 1600
/** Longer side of a thumbnail [px]. */
export const THUMB_SIDE_PX = 400

const PHOTO_EXAMPLE = {
  id: '5b0a7c1e-9d0f-4f39-8a39-3f0f3f1c7a55',
  boat: 'Marsh Harrier',
  weighingId: 'c1a9d1de-4b3f-47a4-9d3e-7fb9f1f3c842',
  haulOutId: null,
  anode: 'shaft 1',
  date: '2031-04-18',
  widthPx: 1600,
  heightPx: 1200,
  bytes: 214_512,
  url: '/v1/photos/5b0a7c1e-9d0f-4f39-8a39-3f0f3f1c7a55',
  thumbUrl: '/v1/photos/5b0a7c1e-9d0f-4f39-8a39-3f0f3f1c7a55?size=thumb',
  createdAt: '2031-04-18T09:31:12.000Z',
  version: 1,
}

export const PhotoView = z
  .object({
    id: z.uuid(),
    boat: z.string(),
    weighingId: z.uuid().nullable().meta({ description: 'Null for a photo of a whole haul-out' }),
    haulOutId: z.uuid().nullable().meta({ description: 'Null for a photo of one weighing' }),
    anode: z.string().nullable().meta({ description: 'The anode that was weighed' }),
    date: z.iso.date().meta({ description: 'Day of the weighing or of the haul-out' }),
    widthPx: z.int(),
    heightPx: z.int(),
    bytes: z.int().meta({ description: 'Size of the picture as stored, not of its thumbnail' }),
    url: z.string(),
    thumbUrl: z.string(),
    createdAt: z.iso.datetime(),
    version: z.int(),
  })
  .meta({ id: 'Photo', description: 'A picture of a weighing or of a haul-out', examples: [PHOTO_EXAMPLE] })
export type PhotoView = z.infer<typeof PhotoView>

export const AddedPhotos = z.object({ items: z.array(PhotoView) }).meta({
  id: 'AddedPhotos',
  description: 'The photos sent, in their order; one that was there already is not doubled',
})
export type AddedPhotos = z.infer<typeof AddedPhotos>

export const PHOTO_SORTS = ['date', 'createdAt'] as const

export const PhotoQuery = pageQuery(PHOTO_SORTS).extend({
  anode: NameOrId.optional(),
  weighing: z.uuid().optional(),
  haulOut: z.uuid().optional().meta({ description: 'Photos of this haul-out and of its weighings' }),
})
export type PhotoQuery = z.infer<typeof PhotoQuery>

export const PhotoPage = pageOf(PhotoView)

export const PHOTO_SIZES = ['full', 'thumb'] as const
export type PhotoSize = (typeof PHOTO_SIZES)[number]

export const PictureQuery = z.strictObject({
  size: z
    .enum(PHOTO_SIZES)
    .default('full')
    .meta({ description: `Longer side up to ${PHOTO_SIDE_PX} px, or ${THUMB_SIDE_PX} px for "thumb"` }),
})

export const PhotoParams = z.object({ photo: z.uuid() })
