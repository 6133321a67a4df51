import { useLastPhotos } from '../../api/photos.js'
import { sayDay } from '../../wording/days.js'
import { sayPosition, useOwnerWords } from './owner-words.js'

/** As many as fill two rows of a phone. */
const SHOWN = 6

/** The last photos of a boat's anodes; each opens in full. */
export function LastPhotos({ boat }: { boat: string }) {
  const t = useOwnerWords()
  const { data } = useLastPhotos(boat, SHOWN)
  if (data === undefined) return null
  if (data.length === 0) return <p className="soft">{t('photos.none')}</p>
  return (
    <ul className="your-boat-photos">
      {data.map(({ id, url, thumbUrl, anode, date }) => {
        const said = t('photos.alt', {
          what: anode === null ? t('photos.wholeBoat') : sayPosition(anode, t),
          day: sayDay(date),
        })
        return (
          <li key={id}>
            <a href={url}>
              <img src={thumbUrl} loading="lazy" alt={said} />
            </a>
            <span className="soft small" aria-hidden="true">
              {said}
            </span>
          </li>
        )
      })}
    </ul>
  )
}
