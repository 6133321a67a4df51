import type { DepletionView } from '../../contract/forecasts.js'
import { plotData } from '../../presentation/depletion-drawing.js'
import { occupiedPositions } from '../../presentation/occupied-positions.js'
import { depletionPicture } from './depletion-picture.js'
import type { Block, LetterPicture } from './letter.js'
import type { LetterWords } from './letter-words.js'

const CID = 'depletion@anode-ledger'

/** The plot of the anode that is due first, with what it shows in words; `null` where nothing was weighed and nothing is due. */
export async function duePicture(
  depletion: DepletionView,
  words: LetterWords,
): Promise<{ readonly picture: LetterPicture; readonly blocks: readonly Block[] } | null> {
  const [first] = occupiedPositions(depletion)
  const dates = first?.current.forecast?.replace
  if (first === undefined || dates?.p10 == null) return null
  const { anode } = first.current
  const png = await depletionPicture(plotData(first.current, first.before, depletion.asOf), {
    today: words.t('picture.today'),
    month: (at) => words.month(at),
    mass: (grams) => words.mass(grams, 2),
  })
  const alt = words.t('picture.alt', { anode, from: words.day(dates.p10), to: words.day(dates.p90 ?? dates.p10) })
  return {
    picture: { cid: CID, filename: 'depletion.png', png },
    blocks: [{ kind: 'picture', cid: CID, alt, caption: words.t('picture.caption', { anode }) }],
  }
}
