import type { GalvanicAuditView } from '../../../contract/galvanic.js'
import { ALLOY_WORDS, LIMIT_WORDS, metalName, PROTECTION_WORDS, sayVolts } from './galvanic-words.js'
import { JudgementTag } from './judgement-tag.js'

type Protection = GalvanicAuditView['protection'][number]

/** What each alloy can do for the metals joined to the anodes, the fitted ones first, and whether it can do harm. */
export function ProtectionPanel({ audit }: { audit: GalvanicAuditView }) {
  const inOrder = audit.protection.toSorted((a, b) => Number(b.isFitted) - Number(a.isFitted))
  return (
    <section className="panel stack" aria-labelledby="protection">
      <h2 id="protection">Protection</h2>
      <ul className="judged-list">
        {inOrder.map((protection) => (
          <AlloyItem key={protection.alloy} protection={protection} />
        ))}
      </ul>
      {audit.overprotection.length > 0 && (
        <>
          <h3>Too much protection</h3>
          <ul className="judged-list">
            {audit.overprotection.map(({ alloy, hull, metal, verdict, reason }) => (
              <li key={`${alloy} ${hull} ${metal}`}>
                <JudgementTag judgement={LIMIT_WORDS[verdict]} />
                <p>{reason}</p>
              </li>
            ))}
          </ul>
        </>
      )}
      <p className="soft small">
        Potentials against silver/silver chloride in seawater. Whether the anodes are large enough is a question of
        sizing; whether they have contact, of continuity.
      </p>
    </section>
  )
}

function AlloyItem({ protection }: { protection: Protection }) {
  const { alloy, isFitted, anodeV, verdict, reason, metals } = protection
  return (
    <li>
      <JudgementTag judgement={PROTECTION_WORDS[verdict]} />
      <div className="stack-tight">
        <p>
          <strong>
            {ALLOY_WORDS[alloy]}
            {isFitted ? ', fitted' : ''}
          </strong>{' '}
          <span className="soft">{sayVolts(anodeV)} V.</span> {reason}
        </p>
        {isFitted && metals.length > 0 && <Margins metals={metals} />}
      </div>
    </li>
  )
}

function Margins({ metals }: { metals: Protection['metals'] }) {
  return (
    <details className="fold">
      <summary>In hand for each metal</summary>
      <table className="series-table">
        <thead>
          <tr>
            <th scope="col">Metal</th>
            <th scope="col">Protected at, V</th>
            <th scope="col">In hand, V</th>
          </tr>
        </thead>
        <tbody>
          {metals.map(({ metal, fittings, protectedAtV, marginV, criterion }) => (
            <tr key={metal}>
              <th scope="row">
                {metalName(metal)} <small>{fittings.join(', ')}</small>
              </th>
              <td className="number">
                {sayVolts(protectedAtV)} <small>{criterion.status}</small>
              </td>
              <td className="number">{sayVolts(marginV)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
