import { useDeskWords } from './desk-words.js'
import type { LiftEdit } from './plan-choice.js'

interface LiftEditFieldsProps {
  readonly boat: string
  readonly plannedOn: string
  readonly edit: LiftEdit
  readonly earliest: string
  readonly onEdit: (edit: LiftEdit) => void
}

/** Another day for one lift of the plan, or none. */
export function LiftEditFields({ boat, plannedOn, edit, earliest, onEdit }: LiftEditFieldsProps) {
  const t = useDeskWords()
  const { on = plannedOn, isLeftOut = false } = edit
  return (
    <span className="desk-lift-edit">
      <input
        type="date"
        aria-label={t('accept.dayOf', { boat })}
        value={on}
        min={earliest}
        disabled={isLeftOut}
        onChange={(event) => onEdit({ ...edit, on: event.currentTarget.value })}
      />
      <button
        type="button"
        className="button button-plain"
        aria-label={t(isLeftOut ? 'accept.takeBackOf' : 'accept.leaveOutOf', { boat })}
        onClick={() => onEdit({ ...edit, isLeftOut: !isLeftOut })}
      >
        {t(isLeftOut ? 'accept.takeBack' : 'accept.leaveOut')}
      </button>
    </span>
  )
}
