import { type CSSProperties, type PointerEvent, useState } from 'react'
import type { PhotoView } from '../../../../contract/photos.js'
import { photoUrl } from '../../../api/depletion.js'
import { sayDay, sayGap } from '../../../wording/days.js'
import { t } from '../boat-words.js'

interface PhotoSliderProps {
  before: PhotoView
  after: PhotoView
  /** What both show. */
  what: string
}

const MIDDLE = 50
const WHOLE = 100

/** One photo over another, parted by a line that is drawn along with the pointer or the arrow keys. */
export function PhotoSlider({ before, after, what }: PhotoSliderProps) {
  const [percent, setPercent] = useState(MIDDLE)
  const follow = ({ currentTarget, clientX, buttons, pointerType }: PointerEvent) => {
    if (pointerType === 'mouse' && buttons === 0) return
    const { left, width } = currentTarget.getBoundingClientRect()
    setPercent(Math.round(Math.min(WHOLE, Math.max(0, ((clientX - left) / width) * WHOLE))))
  }
  const share = t('compare.share', {
    left: percent,
    before: sayDay(before.date),
    right: WHOLE - percent,
    after: sayDay(after.date),
  })
  return (
    <div className="photo-slider" style={{ '--at': `${percent}%` } as CSSProperties}>
      <div className="photo-frame" onPointerDown={follow} onPointerMove={follow}>
        <img
          src={photoUrl(after.id, 'full')}
          alt={t('compare.alt', { what, day: sayDay(after.date) })}
          draggable={false}
        />
        <img
          className="photo-before"
          src={photoUrl(before.id, 'full')}
          alt={t('compare.alt', { what, day: sayDay(before.date) })}
          draggable={false}
        />
        <span className="photo-line" aria-hidden="true" />
        <span className="photo-day photo-day-left">{sayDay(before.date)}</span>
        <span className="photo-day photo-day-right">{sayDay(after.date)}</span>
      </div>
      <input
        type="range"
        aria-label={t('compare.line')}
        aria-valuetext={share}
        min={0}
        max={WHOLE}
        value={percent}
        onChange={(event) => setPercent(Number(event.target.value))}
      />
      <p className="soft small">
        {before.date === after.date ? t('compare.sameDay') : t('compare.gap', { gap: sayGap(before.date, after.date) })}{' '}
        {t('compare.drag')}
      </p>
    </div>
  )
}
