import type { FlatNamespace } from 'i18next'
import { useTranslation } from 'react-i18next'
import './words.js'

/**
 * Waits until the words of a page are there, and draws it anew in another language. What the page consists of then speaks
 * with the `t` of its area.
 */
export function useAreas(first: FlatNamespace, ...others: readonly FlatNamespace[]): void {
  useTranslation([first, ...others])
}
