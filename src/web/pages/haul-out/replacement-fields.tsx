import { useId } from 'react'
import type { AnodeView } from '../../../contract/anodes.js'
import { ALLOYS, type MassUnit } from '../../../contract/vocabulary.js'
import type { FieldProblem } from '../../api/problem.js'
import { sayWord } from '../../wording/spoken.js'
import { capital } from '../../wording/things.js'
import type { AnodeDraft, ReplacementDraft } from './draft.js'
import { EntryField } from './entry-field.js'
import { t } from './haul-out-words.js'

interface ReplacementFieldsProps {
  anode: AnodeView
  typed: AnodeDraft
  unit: MassUnit
  problems: readonly FieldProblem[]
  change: (part: Partial<AnodeDraft>) => void
}

/** The new anode at the old one's place. */
export function ReplacementFields({ anode, typed, unit, problems, change }: ReplacementFieldsProps) {
  const { replacedBy } = typed
  const start: ReplacementDraft = { alloy: anode.alloy ?? '', shape: anode.shape ?? '', grossMass: '', coreMass: '' }
  return (
    <fieldset className="field replacement">
      <legend className="unseen">{t('new.legend', { anode: anode.name })}</legend>
      <label className="chip chip-wide">
        <input
          type="checkbox"
          checked={replacedBy !== null}
          onChange={(event) => change({ replacedBy: event.target.checked ? start : null })}
        />
        <span>{t('new.replaced')}</span>
      </label>
      {replacedBy && (
        <NewAnodeFields
          typed={replacedBy}
          unit={replacedBy.unit ?? unit}
          wrongAt={(field) => problems.find((problem) => problem.pointer === `replacedBy/${field}`)?.detail}
          change={(part) => change({ replacedBy: { ...replacedBy, ...part } })}
        />
      )}
    </fieldset>
  )
}

interface NewAnodeFieldsProps {
  typed: ReplacementDraft
  unit: MassUnit
  wrongAt: (field: string) => string | undefined
  change: (part: Partial<ReplacementDraft>) => void
}

function NewAnodeFields({ typed, unit, wrongAt, change }: NewAnodeFieldsProps) {
  const id = useId()
  const alloys = ['', ...ALLOYS] as const
  return (
    <div className="two">
      <EntryField
        label={t('new.gross')}
        type="number"
        unit={unit}
        value={typed.grossMass}
        onChange={(grossMass) => change({ grossMass })}
        wrong={wrongAt('grossMassG')}
      />
      <EntryField
        label={t('new.core')}
        type="number"
        unit={unit}
        value={typed.coreMass}
        onChange={(coreMass) => change({ coreMass })}
        wrong={wrongAt('coreMassG')}
      />
      <div className="field">
        <label htmlFor={id}>{t('new.alloy')}</label>
        <select
          id={id}
          value={typed.alloy}
          onChange={(event) => change({ alloy: alloys.find((alloy) => alloy === event.target.value) ?? '' })}
        >
          {alloys.map((alloy) => (
            <option key={alloy} value={alloy}>
              {alloy === '' ? t('new.notKnown') : capital(sayWord(`alloy.${alloy}`))}
            </option>
          ))}
        </select>
        {wrongAt('alloy') && <p className="field-wrong">{wrongAt('alloy')}</p>}
      </div>
      <EntryField
        label={t('new.shape')}
        value={typed.shape}
        onChange={(shape) => change({ shape })}
        wrong={wrongAt('shape')}
      />
    </div>
  )
}
