/** Reads the text of a label in a picture of the camera; null where it sees none. */
export type LabelReader = (video: HTMLVideoElement) => Promise<string | null>

interface BarcodeDetectorLike {
  detect(source: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>
}
interface BarcodeDetectorMaker {
  new (options: { formats: readonly string[] }): BarcodeDetectorLike
  getSupportedFormats(): Promise<readonly string[]>
}

/** Pictures are read this wide: a label that fills a third of it has dots enough. */
const READ_WIDTH = 800

/** The browser's own reader where it has one for QR codes, else one in script, which is only then fetched. */
export async function labelReader(): Promise<LabelReader> {
  const Detector = (globalThis as { BarcodeDetector?: BarcodeDetectorMaker }).BarcodeDetector
  const formats = await Detector?.getSupportedFormats().catch((): string[] => [])
  if (Detector && formats?.includes('qr_code')) {
    const detector = new Detector({ formats: ['qr_code'] })
    return async (video) => (await detector.detect(video))[0]?.rawValue ?? null
  }
  return scriptReader()
}

async function scriptReader(): Promise<LabelReader> {
  const { default: decode } = await import('qr/decode.js')
  const canvas = document.createElement('canvas')
  const context = canvas.getContext('2d', { willReadFrequently: true })
  return async (video) => {
    if (context === null || video.videoWidth === 0) return null
    canvas.width = Math.min(READ_WIDTH, video.videoWidth)
    canvas.height = Math.round((canvas.width * video.videoHeight) / video.videoWidth)
    context.drawImage(video, 0, 0, canvas.width, canvas.height)
    const { width, height, data } = context.getImageData(0, 0, canvas.width, canvas.height)
    try {
      return decode({ width, height, data })
    } catch {
      return null
    }
  }
}
