import { useId, useState } from 'react'
import type { AnodeView } from '../../../contract/anodes.js'
import { GRAMS_PER_UNIT } from '../../../contract/grams.js'
import { ALLOYS, type MassUnit } from '../../../contract/vocabulary.js'
import { partsFor, type RecentPart } from '../../offline/recent-parts.js'
import { useParts } from '../../offline/use-held.js'
import { sayMassIn } from '../../wording/amounts.js'
import { sayShape } from '../../wording/things.js'
import type { AnodeDraft, ReplacementDraft } from '../haul-out/draft.js'
import { EntryField } from '../haul-out/entry-field.js'
import { sayPart, useLiftWords } from './lift-words.js'

const MOST_PARTS = 6

interface ReplacePanelProps {
  anode: AnodeView
  typed: AnodeDraft
  unit: MassUnit
  change: (part: Partial<AnodeDraft>) => void
}

/** The new anode in two taps: replaced, by this part. */
export function ReplacePanel({ anode, typed, unit, change }: ReplacePanelProps) {
  const t = useLiftWords()
  const [step, setStep] = useState<'closed' | 'parts' | 'other'>('closed')
  const { replacedBy } = typed
  const putIn = (part: ReplacementDraft | null, next: typeof step) => {
    change({ replacedBy: part })
    setStep(next)
  }
  if (replacedBy !== null && step !== 'other') {
    return (
      <div className="replaced">
        <p>
          <strong>{t('anode.replacedBy', { part: sayPart(replacedBy, unit, t) })}</strong>
        </p>
        <button type="button" className="button" onClick={() => putIn(null, 'closed')}>
          {t('anode.replaceUndo')}
        </button>
      </div>
    )
  }
  if (step === 'closed') {
    return (
      <button type="button" className="button lift-wide" onClick={() => setStep('parts')}>
        {t('anode.replace')}
      </button>
    )
  }
  const other: ReplacementDraft = {
    alloy: anode.alloy ?? '',
    shape: anode.shape ?? '',
    grossMass: '',
    coreMass: '',
    unit,
  }
  return (
    <div className="stack-tight replace-panel">
      {step === 'parts' && <Parts anode={anode} unit={unit} onPick={(part) => putIn(part, 'closed')} />}
      {step === 'parts' && (
        <button type="button" className="button" onClick={() => putIn(other, 'other')}>
          {t('anode.replaceOther')}
        </button>
      )}
      {step === 'other' && replacedBy !== null && (
        <OtherPart typed={replacedBy} change={(part) => change({ replacedBy: { ...replacedBy, ...part } })} />
      )}
      <button type="button" className="button button-plain" onClick={() => putIn(null, 'closed')}>
        {t('anode.replaceUndo')}
      </button>
    </div>
  )
}

function Parts({
  anode,
  unit,
  onPick,
}: {
  anode: AnodeView
  unit: MassUnit
  onPick: (part: ReplacementDraft) => void
}) {
  const t = useLiftWords()
  const { held } = useParts()
  const parts = partsFor(held?.value ?? [], anode).slice(0, MOST_PARTS)
  if (parts.length === 0) return null
  return (
    <>
      <p className="label">{t('anode.replaceHint')}</p>
      <ul className="parts">
        {parts.map((part) => (
          <li key={`${part.alloy} ${part.shape} ${part.grossMassG}`}>
            <button type="button" className="part" onClick={() => onPick(draftOf(part, unit))}>
              <strong>{sayMassIn(part.grossMassG, unit)}</strong>
              <span>
                {part.alloy === null ? t('anode.alloyUnknown') : t(`alloy.${part.alloy}`, { ns: 'words' })}
                {part.shape !== null && `, ${sayShape(part.shape)}`}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </>
  )
}

/** Enough digits for a gram in every unit. */
const DIGITS = 6

/** A part of the list as what would have been typed. */
function draftOf(part: RecentPart, unit: MassUnit): ReplacementDraft {
  const inUnit = (grams: number | null) =>
    grams === null ? '' : String(Number((grams / GRAMS_PER_UNIT[unit]).toPrecision(DIGITS)))
  return {
    alloy: part.alloy ?? '',
    shape: part.shape ?? '',
    grossMass: inUnit(part.grossMassG),
    coreMass: inUnit(part.coreMassG),
    unit,
    size: { lengthMm: part.lengthMm, widthMm: part.widthMm, heightMm: part.heightMm },
  }
}

function OtherPart({ typed, change }: { typed: ReplacementDraft; change: (part: Partial<ReplacementDraft>) => void }) {
  const t = useLiftWords()
  const id = useId()
  const alloys = ['', ...ALLOYS] as const
  return (
    <div className="two">
      <EntryField
        label={t('anode.newMass')}
        type="number"
        unit={typed.unit ?? 'g'}
        value={typed.grossMass}
        onChange={(grossMass) => change({ grossMass })}
      />
      <div className="field">
        <label htmlFor={id}>{t('anode.alloy')}</label>
        <select
          id={id}
          value={typed.alloy}
          onChange={(event) => change({ alloy: alloys.find((alloy) => alloy === event.target.value) ?? '' })}
        >
          {alloys.map((alloy) => (
            <option key={alloy} value={alloy}>
              {alloy === '' ? t('anode.alloyUnknown') : t(`alloy.${alloy}`, { ns: 'words' })}
            </option>
          ))}
        </select>
      </div>
    </div>
  )
}
