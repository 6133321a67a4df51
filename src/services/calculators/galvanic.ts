import { z } from 'zod'
import { CouplePair, SeriesMetal } from '../../contract/galvanic.js'
import { couplesOf } from '../../engine/galvanic/couple.js'
import { WATERS } from '../../engine/reference/vocabulary.js'
import { filmLostView, reasonView } from '../galvanic/audit-view.js'
import { calculator } from './calculator.js'

/** Every two of them make a pair: 40 metals make 780. */
const MOST_METALS = 40

export const coupleCalculator = calculator({
  name: 'couple',
  summary: 'What connected metals in the same water do to each other: each pair with ΔE, area ratio and grade',
  input: z.strictObject({
    metals: z
      .array(
        z.strictObject({
          metal: SeriesMetal.describe('A key of the galvanic series'),
          areaCm2: z.number().positive().nullable().default(null).describe('Wetted area [cm²]; null where unknown'),
        }),
      )
      .min(2)
      .max(MOST_METALS),
    water: z.enum(WATERS),
  }),
  output: z.object({ pairs: z.array(CouplePair) }),
  sources: ['aca-flowing-seawater', 'anodic-index-pages', 'mil-std-1250-page', 'area-ratio-note'],
  example: {
    metals: [
      { metal: 'stainless-316-passive', areaCm2: 1900 },
      { metal: 'manganese-bronze', areaCm2: 1450 },
      { metal: 'mild-steel', areaCm2: 60 },
    ],
    water: 'salt',
  },
  compute: ({ metals, water }) => ({
    pairs: couplesOf(metals, water).map((pair) => {
      const { exposedRatio: _, reasons, ...shown } = pair
      return { ...shown, ...reasonView(reasons), whenFilmLost: filmLostView(pair) }
    }),
  }),
  fieldOf: { area: 'metals' },
})
