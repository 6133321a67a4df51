import { ServiceProblem } from '../../api/problem.js'

/** Why the service did not take something: each reason once, or the whole in a sentence. */
export function Refusal({ error }: { error: Error }) {
  const reasons = error instanceof ServiceProblem ? [...new Set(error.fields.map(({ detail }) => detail))] : []
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
