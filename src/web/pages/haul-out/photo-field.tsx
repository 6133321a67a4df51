import { useEffect, useId, useState } from 'react'
import { PHOTO_MEDIA_TYPES } from '../../../contract/photos.js'
import { t } from './haul-out-words.js'

interface PhotoFieldProps {
  anode: string
  photos: readonly File[]
  onChange: (photos: File[]) => void
}

/** Pictures of one anode, shown before they are sent. */
export function PhotoField({ anode, photos, onChange }: PhotoFieldProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{t('photo.label', { anode })}</label>
      <input
        id={id}
        type="file"
        accept={PHOTO_MEDIA_TYPES.join(',')}
        multiple
        onChange={(event) => {
          onChange([...photos, ...(event.target.files ?? [])])
          event.target.value = ''
        }}
      />
      {photos.length > 0 && (
        <>
          <ul className="photos" aria-label={t('photo.count', { count: photos.length })}>
            {photos.map((photo) => (
              <li key={`${photo.name} ${photo.lastModified}`}>
                <Preview photo={photo} />
              </li>
            ))}
          </ul>
          <button type="button" className="button button-plain" onClick={() => onChange([])}>
            {t('photo.remove', { count: photos.length })}
          </button>
        </>
      )}
    </div>
  )
}

function Preview({ photo }: { photo: File }) {
  const [url, setUrl] = useState<string>()
  useEffect(() => {
    const made = URL.createObjectURL(photo)
    setUrl(made)
    return () => URL.revokeObjectURL(made)
  }, [photo])
  return url === undefined ? null : <img src={url} alt={photo.name} width="96" height="96" />
}
