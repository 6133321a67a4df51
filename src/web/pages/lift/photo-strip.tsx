import { useEffect, useState } from 'react'
import { PHOTO_MEDIA_TYPES } from '../../../contract/photos.js'
import { dropPhoto, keepPhoto } from '../../offline/draft-photos.js'
import { PhoneFull } from '../../offline/phone-full.js'
import { UnreadablePhoto } from '../../offline/shrink-photo.js'
import type { StoredPhoto } from '../../offline/store.js'
import type { AtLift } from './boat-at-lift-page.js'
import { useLiftWords } from './lift-words.js'

/** Photos of one anode, kept on the phone as soon as they are taken. */
export function PhotoStrip({ at, anode }: { at: AtLift; anode: string }) {
  const t = useLiftWords()
  const [isBusy, setIsBusy] = useState(false)
  const [trouble, setTrouble] = useState<string | null>(null)
  const own = at.photos.filter((photo) => photo.anode === anode)
  const take = async (files: readonly File[]) => {
    setIsBusy(true)
    setTrouble(null)
    try {
      for (const file of files) await keepPhoto(at.boat.name, anode, file)
    } catch (error) {
      setTrouble(t(error instanceof PhoneFull ? 'anode.photoFull' : 'anode.photoUnreadable'))
      if (!(error instanceof PhoneFull || error instanceof UnreadablePhoto)) console.warn(error)
    }
    await at.photosChanged()
    setIsBusy(false)
  }
  const remove = async (id: string) => {
    await dropPhoto(id)
    await at.photosChanged()
  }
  return (
    <div className="stack-tight">
      <label className="button lift-wide photo-button">
        <input
          type="file"
          accept={PHOTO_MEDIA_TYPES.join(',')}
          capture="environment"
          onChange={(event) => {
            void take([...(event.target.files ?? [])])
            event.target.value = ''
          }}
        />
        <svg viewBox="0 0 24 20" aria-hidden="true">
          <path
            d="M2 5h5l2-3h6l2 3h5v13H2z M12 7.500a4 4 0 1 0 .01 0"
            fill="none"
            stroke="currentColor"
            strokeWidth="2"
          />
        </svg>
        {isBusy ? t('anode.photoBusy') : t('anode.photo')}
      </label>
      {trouble !== null && (
        <p className="field-wrong" role="alert">
          <span>{trouble}</span>
        </p>
      )}
      {own.length > 0 && (
        <ul className="photos">
          {own.map((photo, index) => (
            <li key={photo.id}>
              <Preview photo={photo} alt={t('anode.photoAlt', { number: index + 1, anode })} />
              <button
                type="button"
                className="photo-remove"
                aria-label={t('anode.photoRemove', { number: index + 1 })}
                onClick={() => void remove(photo.id)}
              >
                ×
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

function Preview({ photo, alt }: { photo: StoredPhoto; alt: string }) {
  const [url, setUrl] = useState<string>()
  useEffect(() => {
    const made = URL.createObjectURL(photo.blob)
    setUrl(made)
    return () => URL.revokeObjectURL(made)
  }, [photo])
  return url === undefined ? null : <img src={url} alt={alt} width="96" height="96" />
}
