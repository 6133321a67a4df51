import { t } from './fleet-words.js'

interface WearTagProps {
  direction: 'fast' | 'slow'
  /** How many anodes; left out when the place says which. */
  of?: number
}

/** Abnormal wear, with an arrow so that it is not told by colour alone. */
export function WearTag({ direction, of }: WearTagProps) {
  const amount = of === undefined || of === 1 ? '' : ` × ${of}`
  return (
    <span className={`tag tag-${direction}`}>
      <span aria-hidden="true">{direction === 'fast' ? '▲▲' : '▽'}</span>
      {direction === 'fast' ? t('wastesFast') : t('hardlyWastes')}
      {amount}
    </span>
  )
}
