import type { GalvanicAuditView } from '../../../contract/galvanic.js'
import { sayReason } from '../../wording/reasons.js'
import { judgeLimit, judgeProtection, metalName, sayStatus, sayVolts, t } from './galvanic-words.js'
import { JudgementTag } from './judgement-tag.js'

type Protection = GalvanicAuditView['protection'][number]

/** What each alloy can do for the metals joined to the anodes, the fitted ones first, and whether it can do harm. */
export function ProtectionPanel({ audit }: { audit: GalvanicAuditView }) {
  const inOrder = audit.protection.toSorted((a, b) => Number(b.isFitted) - Number(a.isFitted))
  return (
    <section className="panel stack" aria-labelledby="protection">
      <h2 id="protection">{t('protection.title')}</h2>
      <ul className="judged-list">
        {inOrder.map((protection) => (
          <AlloyItem key={protection.alloy} protection={protection} />
        ))}
      </ul>
      {audit.overprotection.length > 0 && (
        <>
          <h3>{t('protection.tooMuch')}</h3>
          <ul className="judged-list">
            {audit.overprotection.map(({ alloy, hull, metal, verdict, reasons, reason }) => (
              <li key={`${alloy} ${hull} ${metal}`}>
                <JudgementTag judgement={judgeLimit(verdict)} />
                <p>{sayReason({ reasons, reason })}</p>
              </li>
            ))}
          </ul>
        </>
      )}
      <p className="soft small">{t('protection.about')}</p>
    </section>
  )
}

function AlloyItem({ protection }: { protection: Protection }) {
  const { alloy, isFitted, anodeV, verdict, metals } = protection
  const name = t(`alloy.${alloy}`)
  return (
    <li>
      <JudgementTag judgement={judgeProtection(verdict)} />
      <div className="stack-tight">
        <p>
          <strong>{isFitted ? t('protection.fitted', { alloy: name }) : name}</strong>{' '}
          <span className="soft">{sayVolts(anodeV)} V.</span> {sayReason(protection)}
        </p>
        {isFitted && metals.length > 0 && <Margins metals={metals} />}
      </div>
    </li>
  )
}

function Margins({ metals }: { metals: Protection['metals'] }) {
  return (
    <details className="fold">
      <summary>{t('protection.margins')}</summary>
      <table className="series-table">
        <thead>
          <tr>
            <th scope="col">{t('protection.metal')}</th>
            <th scope="col">{t('protection.at')}</th>
            <th scope="col">{t('protection.inHand')}</th>
          </tr>
        </thead>
        <tbody>
          {metals.map(({ metal, fittings, protectedAtV, marginV, criterion }) => (
            <tr key={metal}>
              <th scope="row">
                {metalName(metal)} <small>{fittings.join(', ')}</small>
              </th>
              <td className="number">
                {sayVolts(protectedAtV)} <small>{sayStatus(criterion.status)}</small>
              </td>
              <td className="number">{sayVolts(marginV)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
