import type { UseMutationResult } from '@tanstack/react-query'
import type { ImportAnswer } from '../../../contract/imports.js'
import type { Addition } from '../../api/imports.js'
import { Refusal } from './refusal.js'
import { useSetUpWords } from './set-up-words.js'

interface AdditionStateProps {
  adding: UseMutationResult<ImportAnswer, Error, Addition>
  onAdded: () => void
  /** Columns whose reasons stand at their fields. */
  atFields?: readonly string[]
}

/** What became of what a form sent: added, refused with reasons, or on record already, which asks before it changes. */
export function AdditionState({ adding, onAdded, atFields = [] }: AdditionStateProps) {
  const t = useSetUpWords()
  const { data, error, variables } = adding
  if (error) return <Refusal error={error} atFields={atFields} />
  if (data === undefined) return null
  if (!data.dryRun) {
    return (
      <p className="set-up-done" role="status">
        {t('added.done')}
      </p>
    )
  }
  const count = Object.values(data.files).reduce((sum, { rows, created }) => sum + rows - created, 0)
  const change = () => {
    if (variables) adding.mutate({ ...variables, existing: 'change' }, { onSuccess: onAdded })
  }
  return (
    <div className="set-up-asks stack-tight" role="alert">
      <p>{t('added.exists', { count })}</p>
      <p className="chips">
        <button type="button" className="button button-main" disabled={adding.isPending} onClick={change}>
          {t('added.change')}
        </button>
        <button type="button" className="button" onClick={() => adding.reset()}>
          {t('added.leave')}
        </button>
      </p>
    </div>
  )
}
