import { sayPercent } from '../../wording/amounts.js'
import { sayCause } from '../../wording/finding-words.js'
import { t } from './findings-words.js'

/** A probability as a bar; its number stands beside it. */
export function CauseBar({ probability, was }: { probability: number; was?: number }) {
  return (
    <svg className="cause-bar" width="100%" height="14" aria-hidden="true">
      <rect width="100%" height="14" rx="4" className="cause-bar-water" />
      {was !== undefined && <rect width={widthOf(was)} height="14" rx="4" className="cause-bar-was" />}
      <rect
        y={was === undefined ? 0 : 4}
        width={widthOf(probability)}
        height={was === undefined ? 14 : 6}
        rx="3"
        className="cause-bar-part"
      />
    </svg>
  )
}

function widthOf(probability: number): string {
  return `${(100 * probability).toFixed(2)}%`
}

interface Likely {
  readonly cause: string
  readonly probability: number
}

/** Below this a cause is not worth a line of its own. Convention. */
const HARDLY_POSSIBLE = 0.01

/** How the probabilities of the causes move, the likeliest afterwards first. */
export function BeforeAfter({
  before,
  after,
  caption,
}: {
  before: readonly Likely[]
  after: readonly Likely[]
  caption: string
}) {
  const was = new Map(before.map(({ cause, probability }) => [cause, probability]))
  const shown = after
    .filter(({ cause, probability }) => Math.max(probability, was.get(cause) ?? 0) >= HARDLY_POSSIBLE)
    .toSorted((a, b) => b.probability - a.probability)
  return (
    <table className="before-after">
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{t('causes.cause')}</th>
          <th scope="col">{t('causes.before')}</th>
          <th scope="col">{t('causes.after')}</th>
        </tr>
      </thead>
      <tbody>
        {shown.map(({ cause, probability }) => (
          <tr key={cause}>
            <th scope="row">
              {sayCause(cause)}
              <CauseBar probability={probability} was={was.get(cause) ?? 0} />
            </th>
            <td>{sayPercent(was.get(cause) ?? 0)}</td>
            <td>
              <strong>{sayPercent(probability)}</strong>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
