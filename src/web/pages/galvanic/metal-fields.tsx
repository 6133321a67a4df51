import { useId } from 'react'
import { Trans } from 'react-i18next'
import { GALVANIC_SERIES } from '../../../engine/reference/galvanic-series.js'
import { EntryField } from '../haul-out/entry-field.js'
import type { MetalDraft } from './couple-draft.js'
import { metalName, t } from './galvanic-words.js'

/** Rows of the series by family, in the order in which the families first come. */
const GROUPS = [...new Set(GALVANIC_SERIES.map(({ group }) => group))].map(
  (group) => [group, GALVANIC_SERIES.filter((row) => row.group === group)] as const,
)

interface MetalFieldsProps {
  /** From 1, in the order of the form. */
  number: number
  draft: MetalDraft
  wrong: string | undefined
  /** Absent where it is one of the last two. */
  remove: (() => void) | undefined
  change: (part: Partial<MetalDraft>) => void
}

/** One metal of the checker: which, and how much of it is in the water. */
export function MetalFields({ number, draft, wrong, remove, change }: MetalFieldsProps) {
  const id = useId()
  const name = t('form.metal', { number })
  return (
    <fieldset className="field metal">
      <legend className="unseen">{name}</legend>
      <div className="field">
        <label htmlFor={id}>{name}</label>
        <select
          id={id}
          value={draft.metal}
          onChange={(event) => {
            const row = GALVANIC_SERIES.find(({ key }) => key === event.target.value)
            if (row !== undefined) change({ metal: row.key })
          }}
        >
          {GROUPS.map(([group, rows]) => (
            <optgroup key={group} label={t(`group.${group}`)}>
              {rows.map((row) => (
                <option key={row.key} value={row.key}>
                  {metalName(row.key)}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </div>
      <div className="metal-size">
        <EntryField
          label={t('form.area')}
          type="number"
          unit="cm²"
          value={draft.areaCm2}
          wrong={wrong}
          onChange={(areaCm2) => change({ areaCm2 })}
        />
        {remove && (
          <button type="button" className="button button-plain" onClick={remove}>
            <Trans t={t} i18nKey="form.remove" values={{ number }} components={{ 1: <span className="unseen" /> }} />
          </button>
        )}
      </div>
    </fieldset>
  )
}
