import type { CountedParts } from '../../../contract/desk-plan.js'
import { sayMass } from '../../wording/amounts.js'
import { sayShape } from '../../wording/things.js'
import { sayAlloy, useDeskWords } from './desk-words.js'

/** What to order, by alloy, shape and mass. */
export function OrderTable({ parts }: { parts: CountedParts }) {
  const t = useDeskWords()
  return (
    <table className="desk-order">
      <thead>
        <tr>
          <th scope="col">{t('parts.count')}</th>
          <th scope="col">{t('parts.alloy')}</th>
          <th scope="col">{t('parts.shape')}</th>
          <th scope="col">{t('parts.mass')}</th>
        </tr>
      </thead>
      <tbody>
        {parts.map(({ alloy, shape, massG, count }) => (
          <tr key={`${alloy} ${shape} ${massG}`}>
            <td>
              <strong>{count} ×</strong>
            </td>
            <td>{sayAlloy(alloy, t)}</td>
            <td>{sayShape(shape) ?? t('parts.noShape')}</td>
            <td>{massG === null ? t('parts.noMass') : sayMass(massG)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
