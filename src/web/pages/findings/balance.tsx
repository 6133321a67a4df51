import { Trans } from 'react-i18next'
import type { Finding } from '../../api/findings.js'
import { sayPercent } from '../../wording/amounts.js'
import { causeMeaning, sayCause } from '../../wording/finding-words.js'
import { type BalancePiece, balanceOf } from './balance-data.js'
import { t } from './findings-words.js'

interface BalanceViewProps {
  cause: Finding['causes'][number]
  causes: Finding['causes']
}

/** The evidence on one cause as a balance: to the right what speaks for it, to the left what speaks against. */
export function BalanceView({ cause, causes }: BalanceViewProps) {
  const { speaksFor, against, neither, before } = balanceOf(cause, causes)
  const isEmpty = speaksFor.length + against.length === 0
  return (
    <div className="balance stack" aria-live="polite">
      <div>
        <h3>{sayCause(cause.cause)}</h3>
        <p className="soft">{causeMeaning(cause.cause)}</p>
      </div>
      {isEmpty ? (
        <p>{t('balance.nothing')}</p>
      ) : (
        <>
          <Side name={t('balance.for')} side="for" pieces={speaksFor} />
          <Side name={t('balance.against')} side="against" pieces={against} />
          <p>
            <Trans
              t={t}
              i18nKey="balance.sum"
              values={{ before: sayPercent(before), after: sayPercent(cause.probability) }}
              components={{ 1: <strong /> }}
            />
          </p>
          <p className="soft small">{t('balance.bar')}</p>
        </>
      )}
      {neither.length > 0 && (
        <details className="fold">
          <summary>{t('balance.little', { count: neither.length })}</summary>
          <ul className="balance-neither">
            {neither.map(({ observation, said }) => (
              <li key={observation}>{said}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  )
}

interface SideProps {
  name: string
  side: 'for' | 'against'
  pieces: readonly BalancePiece[]
}

function Side({ name, side, pieces }: SideProps) {
  return (
    <div className={`balance-side balance-${side}`}>
      <h4>
        <span aria-hidden="true">{side === 'for' ? '+' : '−'}</span> {name}
      </h4>
      {pieces.length === 0 ? (
        <p className="soft">{side === 'for' ? t('balance.nothingFor') : t('balance.nothingAgainst')}</p>
      ) : (
        <ul>
          {pieces.map((piece) => (
            <Piece key={piece.observation} piece={piece} side={side} />
          ))}
        </ul>
      )}
    </div>
  )
}

function Piece({ piece: { said, odds, length }, side }: { piece: BalancePiece; side: 'for' | 'against' }) {
  const half = 50 * length
  return (
    <li className="piece">
      <span>{said}</span>
      <span className="piece-weight">
        <svg width="100%" height="18" aria-hidden="true">
          <rect
            x={`${side === 'for' ? 50 : 50 - half}%`}
            width={`${half}%`}
            y="3"
            height="12"
            rx="2"
            className="piece-bar"
          />
          <rect x="50%" width="2" height="18" className="piece-axis" />
        </svg>
        <strong className="small">{odds}</strong>
      </span>
    </li>
  )
}
