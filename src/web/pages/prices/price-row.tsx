import { useId } from 'react'
import { ALLOYS } from '../../../contract/vocabulary.js'
import { sayWord } from '../../wording/spoken.js'
import { capital } from '../../wording/things.js'
import { EntryField } from '../haul-out/entry-field.js'
import { useCostWords } from './cost-words.js'
import type { PriceDraft } from './price-draft.js'

interface PriceRowProps {
  readonly name: string
  readonly price: PriceDraft
  readonly wrongOf: (field: keyof PriceDraft) => string | undefined
  readonly change: (part: Partial<PriceDraft>) => void
  readonly remove: () => void
}

/** One price: of what, from when, how much. */
export function PriceRow({ name, price, wrongOf, change, remove }: PriceRowProps) {
  const t = useCostWords()
  const alloy = useId()
  return (
    <fieldset className="price-row">
      <legend className="unseen">{name}</legend>
      {price.kind === 'part' && (
        <>
          <div className="field">
            <label htmlFor={alloy}>{t('alloy')}</label>
            <select
              id={alloy}
              value={price.alloy ?? ''}
              onChange={({ target }) => change({ alloy: ALLOYS.find((each) => each === target.value) ?? null })}
            >
              <option value="">{t('any')}</option>
              {ALLOYS.map((each) => (
                <option key={each} value={each}>
                  {capital(sayWord(`alloy.${each}`))}
                </option>
              ))}
            </select>
          </div>
          <EntryField
            label={t('shape')}
            value={price.shape}
            wrong={wrongOf('shape')}
            onChange={(shape) => change({ shape })}
          />
          <EntryField
            label={t('mass')}
            type="number"
            unit="g"
            value={price.massG}
            wrong={wrongOf('massG')}
            onChange={(massG) => change({ massG })}
          />
        </>
      )}
      <EntryField
        label={t('since')}
        type="date"
        value={price.since}
        wrong={wrongOf('since')}
        onChange={(since) => change({ since })}
      />
      <EntryField
        label={t('amount')}
        type="number"
        value={price.amount}
        wrong={wrongOf('amount')}
        onChange={(amount) => change({ amount })}
      />
      <button type="button" className="button button-plain" onClick={remove}>
        {t('remove')}
        <span className="unseen"> {name}</span>
      </button>
    </fieldset>
  )
}
