import { useTranslation } from 'react-i18next'
import english from '../../../../messages/en/drawing.json' with { type: 'json' }
import { addEnglish } from '../../../i18n/words.js'

addEnglish('drawing', english)

/** The words of drawing pontoons. */
export function useDrawingWords() {
  return useTranslation('drawing').t
}

export type DrawingWords = ReturnType<typeof useDrawingWords>
