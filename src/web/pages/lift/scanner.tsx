import { useEffect, useRef, useState } from 'react'
import { labelReader } from './label-reader.js'
import { boatOfLabel } from './lift-paths.js'
import { useLiftWords } from './lift-words.js'

/** Looks this often: a label is held still for longer. */
const LOOK_MS = 180

type Trouble = 'refused' | 'noCamera' | 'insecure' | 'failed'
type State = { readonly kind: 'starting' | 'looking' } | { readonly kind: 'trouble'; readonly trouble: Trouble }

interface ScannerProps {
  onBoat: (boat: string) => void
  onClose: () => void
}

/** The camera's picture, and the boat of the first label in it. */
export default function Scanner({ onBoat, onClose }: ScannerProps) {
  const t = useLiftWords()
  const video = useRef<HTMLVideoElement>(null)
  const [state, setState] = useState<State>({ kind: 'starting' })
  const [foreign, setForeign] = useState<string | null>(null)
  const tell = useRef(onBoat)
  tell.current = onBoat
  useEffect(() => {
    const stop = new AbortController()
    const onText = (text: string) => {
      const boat = boatOfLabel(text)
      if (boat === null) return setForeign(text)
      stop.abort()
      tell.current(boat)
    }
    if (video.current) {
      look(video.current, stop.signal, onText, () => setState({ kind: 'looking' })).catch((error: unknown) => {
        if (!stop.signal.aborted) setState({ kind: 'trouble', trouble: troubleOf(error) })
      })
    }
    return () => stop.abort()
  }, [])
  return (
    <section className="scanner" aria-label={t('scan.title')}>
      {state.kind === 'trouble' ? (
        <p role="alert" className="lift-notice">
          {t(`scan.${state.trouble}`)}
        </p>
      ) : (
        <div className="scanner-view">
          <video ref={video} muted playsInline />
          <span className="scanner-frame" aria-hidden="true" />
          <p>{state.kind === 'starting' ? t('scan.starting') : t('scan.hint')}</p>
        </div>
      )}
      {foreign !== null && <p className="lift-notice">{t('scan.foreign', { text: foreign.slice(0, 80) })}</p>}
      <button type="button" className="button" onClick={onClose}>
        {t('scan.close')}
      </button>
    </section>
  )
}

async function look(
  video: HTMLVideoElement,
  signal: AbortSignal,
  onText: (text: string) => void,
  onStart: () => void,
): Promise<void> {
  if (navigator.mediaDevices === undefined) throw new DOMException('no camera on plain HTTP', 'SecurityError')
  const wanted = { video: { facingMode: 'environment', width: { ideal: 1280 } }, audio: false }
  const stream = await navigator.mediaDevices.getUserMedia(wanted)
  const end = () => {
    for (const track of stream.getTracks()) track.stop()
  }
  signal.addEventListener('abort', end)
  if (signal.aborted) return end()
  video.srcObject = stream
  await video.play()
  onStart()
  const read = await labelReader()
  while (!signal.aborted) {
    const text = await read(video)
    if (text !== null && !signal.aborted) onText(text)
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS))
  }
}

function troubleOf(error: unknown): Trouble {
  if (!(error instanceof DOMException)) return 'failed'
  if (error.name === 'NotAllowedError') return 'refused'
  if (error.name === 'NotFoundError' || error.name === 'OverconstrainedError') return 'noCamera'
  return error.name === 'SecurityError' ? 'insecure' : 'failed'
}
