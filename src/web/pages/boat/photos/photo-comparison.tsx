import { useId, useState } from 'react'
import type { DepletionView } from '../../../../contract/forecasts.js'
import type { PhotoView } from '../../../../contract/photos.js'
import { usePhotos } from '../../../api/readings.js'
import { sayDay } from '../../../wording/days.js'
import { capital, sayPosition } from '../../../wording/things.js'
import { t } from '../boat-words.js'
import { comparablePositions, firstPair, type PositionPhotos, WHOLE_BOAT } from './photo-choice.js'
import { PhotoSlider } from './photo-slider.js'
import './photos.css'

/** Two photos of one position side by side, of any two days it was seen. */
export function PhotoComparison({ boat, depletion }: { boat: string; depletion: DepletionView }) {
  const photos = usePhotos(boat)
  const [chosen, setChosen] = useState<string | null>(null)
  const positions = comparablePositions(depletion, photos.data ?? [])
  const shown = positions.find(({ position }) => position === chosen) ?? positions[0]
  if (shown === undefined) return null
  return (
    <section className="panel stack-tight" aria-labelledby="compare-photos">
      <h2 id="compare-photos">{t('compare.title')}</h2>
      {positions.length === 1 && <p className="soft">{sayShown(shown.position)}</p>}
      {positions.length > 1 && (
        <fieldset className="field">
          <legend>{t('compare.position')}</legend>
          <div className="chips">
            {positions.map(({ position }) => (
              <label key={position} className="chip">
                <input
                  type="radio"
                  name="photo-position"
                  checked={position === shown.position}
                  onChange={() => setChosen(position)}
                />
                <span>{sayShown(position)}</span>
              </label>
            ))}
          </div>
        </fieldset>
      )}
      <Pair key={shown.position} of={shown} />
    </section>
  )
}

function sayShown(position: string): string {
  return capital(position === WHOLE_BOAT ? t('compare.wholeBoat') : sayPosition(position))
}

function Pair({ of: { position, photos } }: { of: PositionPhotos }) {
  const first = firstPair(photos)
  const [before, setBefore] = useState(first?.before.id)
  const [after, setAfter] = useState(first?.after.id)
  const [left, right] = [before, after].map((id) => photos.find((photo) => photo.id === id))
  if (left === undefined || right === undefined) return null
  return (
    <>
      <PhotoSlider before={left} after={right} what={sayShown(position)} />
      <div className="photo-days">
        <DayField label={t('compare.left')} photos={photos} value={left.id} onChange={setBefore} />
        <DayField label={t('compare.right')} photos={photos} value={right.id} onChange={setAfter} />
      </div>
    </>
  )
}

interface DayFieldProps {
  label: string
  photos: readonly PhotoView[]
  value: string
  onChange: (id: string) => void
}

function DayField({ label, photos, value, onChange }: DayFieldProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        {photos.map((photo) => (
          <option key={photo.id} value={photo.id}>
            {[sayDay(photo.date), photo.anode].filter(Boolean).join(', ')}
            {numberOfDay(photo, photos)}
          </option>
        ))}
      </select>
    </div>
  )
}

/** Tells several photos of one anode and day apart. */
function numberOfDay({ id, date, anode }: PhotoView, photos: readonly PhotoView[]): string {
  const alike = photos.filter((photo) => photo.date === date && photo.anode === anode)
  return alike.length < 2 ? '' : `, ${t('compare.number', { number: alike.findIndex((photo) => photo.id === id) + 1 })}`
}
