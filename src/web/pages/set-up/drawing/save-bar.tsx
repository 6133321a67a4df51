import { useState } from 'react'
import type { PontoonDrawing } from '../../../../contract/pontoon-drawing.js'
import type { useSaveDrawing } from '../../../api/pontoon-drawing.js'
import { ServiceProblem } from '../../../api/problem.js'
import { Refusal } from '../refusal.js'
import { useDrawingWords } from './drawing-words.js'
import type { DrawnNow } from './use-draft.js'

/** The drawing is another than the one that these steps were drawn on (RFC 9110, 15.5.13). */
const CHANGED_MEANWHILE = 412

interface SaveBarProps {
  readonly drawn: DrawnNow
  readonly saving: ReturnType<typeof useSaveDrawing>
  readonly reread: () => Promise<PontoonDrawing | undefined>
  readonly said: string
  readonly onSaid: (said: string) => void
}

/** What is not saved yet: undone step by step, or saved as a whole. */
export function SaveBar({ drawn, saving, reread, said, onSaid }: SaveBarProps) {
  const t = useDrawingWords()
  const { steps, body, version } = drawn
  const isClash = saving.error instanceof ServiceProblem && saving.error.status === CHANGED_MEANWHILE
  const save = () =>
    saving.mutate(
      { drawing: body, version },
      {
        onSuccess: () => {
          drawn.forget()
          onSaid(t('save.done'))
        },
      },
    )
  const undo = () => {
    drawn.undo()
    saving.reset()
    onSaid(t('said.undone'))
  }
  return (
    <section
      className={steps.length > 0 ? 'save-bar save-bar-unsaved panel stack-tight' : 'save-bar panel stack-tight'}
      aria-label={t('save.label')}
    >
      {isClash ? (
        <Clash drawn={drawn} reread={reread} onSettled={saving.reset} onSaid={onSaid} />
      ) : (
        saving.isError && <Refusal error={saving.error} />
      )}
      <p role="status">{said}</p>
      <div className="save-row">
        <strong>{t('save.unsaved', { count: steps.length })}</strong>
        <button
          type="button"
          className="button"
          aria-disabled={steps.length === 0}
          onClick={steps.length === 0 ? undefined : undo}
        >
          {t('save.undo')}
        </button>
        <button
          type="button"
          className="button button-main"
          aria-disabled={steps.length === 0 || saving.isPending}
          onClick={steps.length === 0 || saving.isPending ? undefined : save}
        >
          {t('save.do')}
        </button>
      </div>
    </section>
  )
}

/** Nothing is lost: the steps are drawn again on what somebody else has made of the harbour, or given up. */
function Clash({
  drawn,
  reread,
  onSettled,
  onSaid,
}: Pick<SaveBarProps, 'drawn' | 'reread' | 'onSaid'> & { onSettled: () => void }) {
  const t = useDrawingWords()
  const [isReading, setReading] = useState(false)
  const settle = async (isMineKept: boolean) => {
    setReading(true)
    const newest = await reread()
    setReading(false)
    if (newest === undefined) return
    onSettled()
    if (!isMineKept) {
      drawn.forget()
      return onSaid(t('clash.theirs'))
    }
    const lost = drawn.drawOn(newest)
    onSaid(lost === 0 ? t('clash.drawn') : t('clash.lost', { count: lost }))
  }
  return (
    <div className="set-up-asks stack-tight" role="alert">
      <p>{t('clash.told')}</p>
      <p className="chips">
        <button type="button" className="button button-main" disabled={isReading} onClick={() => settle(true)}>
          {t('clash.redraw', { count: drawn.steps.length })}
        </button>
        <button type="button" className="button" disabled={isReading} onClick={() => settle(false)}>
          {t('clash.drop')}
        </button>
      </p>
    </div>
  )
}
