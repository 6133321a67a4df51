import type { FindingState } from '../../../contract/vocabulary.js'
import { t } from './findings-words.js'

const SYMBOLS: Readonly<Record<FindingState, string>> = {
  open: '●',
  acknowledged: '◐',
  checked: '◑',
  resolved: '✓',
  closed: '–',
}

/** How far the work on a finding has come. */
export function StateTag({ state }: { state: FindingState }) {
  return (
    <span className={`tag tag-state tag-state-${state}`}>
      <span aria-hidden="true">{SYMBOLS[state]}</span>
      {t(`state.${state}`)}
    </span>
  )
}
