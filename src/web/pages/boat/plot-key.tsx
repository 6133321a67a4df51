import { t } from './boat-words.js'

interface PlotKeyProps {
  hasPredecessors: boolean
  hasOnset: boolean
}

/** What the marks of a depletion plot mean. */
export function PlotKey({ hasPredecessors, hasOnset }: PlotKeyProps) {
  return (
    <ul className="plot-key small" aria-label={t('key.label')}>
      <li className="key-weighing">{t('key.weighing')}</li>
      <li className="key-curve">{t('key.curve')}</li>
      <li className="key-due">{t('key.due')}</li>
      {hasOnset && <li className="key-onset">{t('key.onset')}</li>}
      {hasPredecessors && <li className="key-before">{t('key.before')}</li>}
    </ul>
  )
}
