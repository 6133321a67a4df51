import sharp from 'sharp'

const WIDTH = 640
const HEIGHT = 480
/** Black and white of studio range (ITU-R BT.601). */
const BLACK = 16
const WHITE = 235
const NO_COLOUR = 128

/** A picture held before a camera, as a video of one frame (YUV4MPEG2, 4:2:0) that Chromium plays for ever. */
export async function stillVideo(picture: Buffer): Promise<Buffer> {
  const grey = await sharp(picture)
    .resize(WIDTH, HEIGHT, { fit: 'contain', background: '#ffffff' })
    .flatten({ background: '#ffffff' })
    .greyscale()
    .raw()
    .toBuffer()
  const luma = grey.map((value) => BLACK + Math.round((value / 255) * (WHITE - BLACK)))
  const chroma = Buffer.alloc((WIDTH * HEIGHT) / 2, NO_COLOUR)
  const header = `YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420\n`
  return Buffer.concat([Buffer.from(header), Buffer.from('FRAME\n'), luma, chroma])
}
