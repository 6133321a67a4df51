import { useId } from 'react'
import { GALVANIC_SERIES, type MetalGroup } from '../../../engine/reference/galvanic-series.js'
import { EntryField } from '../haul-out/entry-field.js'
import type { MetalDraft } from './couple-draft.js'

const GROUP_WORDS: Readonly<Record<MetalGroup, string>> = {
  carbon: 'Carbon',
  noble: 'Noble metals',
  nickel: 'Nickel alloys',
  titanium: 'Titanium',
  stainless: 'Stainless steels',
  solder: 'Brazing alloys',
  copper: 'Copper, brass, bronze',
  'lead-tin': 'Lead and tin',
  iron: 'Steel and cast iron',
  cadmium: 'Cadmium',
  aluminium: 'Aluminium',
  zinc: 'Zinc',
  magnesium: 'Magnesium',
}

/** Rows of the series by family, in the order in which the families first come. */
const GROUPS = [...new Set(GALVANIC_SERIES.map(({ group }) => group))].map(
  (group) => [group, GALVANIC_SERIES.filter((row) => row.group === group)] as const,
)

interface MetalFieldsProps {
  name: string
  draft: MetalDraft
  wrong: string | undefined
  /** Absent where it is one of the last two. */
  remove: (() => void) | undefined
  change: (part: Partial<MetalDraft>) => void
}

/** One metal of the checker: which, and how much of it is in the water. */
export function MetalFields({ name, draft, wrong, remove, change }: MetalFieldsProps) {
  const id = useId()
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
            <optgroup key={group} label={GROUP_WORDS[group]}>
              {rows.map((row) => (
                <option key={row.key} value={row.key}>
                  {row.name}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </div>
      <div className="metal-size">
        <EntryField
          label="Area in the water"
          type="number"
          unit="cm²"
          value={draft.areaCm2}
          wrong={wrong}
          onChange={(areaCm2) => change({ areaCm2 })}
        />
        {remove && (
          <button type="button" className="button button-plain" onClick={remove}>
            Remove<span className="unseen"> {name.toLowerCase()}</span>
          </button>
        )}
      </div>
    </fieldset>
  )
}
