import { ServiceProblem } from '../../api/problem.js'
import { cellErrorOf } from './import-errors.js'
import { useSetUpWords } from './set-up-words.js'

interface RefusalProps {
  error: Error
  /** Columns whose reasons stand at their fields. */
  atFields?: readonly string[]
}

/** Why the service did not take something: each reason once, or the whole in a sentence. */
export function Refusal({ error, atFields = [] }: RefusalProps) {
  const t = useSetUpWords()
  const fields = error instanceof ServiceProblem ? error.fields : []
  const others = fields.filter((field) => !atFields.includes(cellErrorOf(field).column ?? ''))
  const reasons = [
    ...(others.length < fields.length ? [t('added.marked')] : []),
    ...new Set(others.map(({ detail }) => detail)),
  ]
  return (
    <div role="alert" className="stack-tight">
      {(reasons.length > 0 ? reasons : [error.message]).map((reason) => (
        <p key={reason} className="field-wrong">
          {reason}
        </p>
      ))}
    </div>
  )
}
