import { useFindings } from '../../api/findings.js'
import { t } from '../../shell/shell-words.js'
import './open-count.css'

/** How many findings nobody has looked at yet; nothing where there are none. */
export function OpenCount() {
  const open = useFindings('unsettled').data?.filter(({ state }) => state === 'open').length ?? 0
  if (open === 0) return null
  return (
    <span className="open-count">
      <span aria-hidden="true">{open}</span>
      <span className="unseen">, {t('open', { count: open })}</span>
    </span>
  )
}
