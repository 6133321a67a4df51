import { useId } from 'react'
import { FINDING_DIRECTIONS } from '../../../contract/vocabulary.js'
import { CAUSES } from '../../../engine/diagnosis/causes.js'
import type { Finding } from '../../api/findings.js'
import { sayCause } from '../../wording/finding-words.js'
import { type FindingFilter, narrowFindings, STATE_CHOICES, type StateChoice } from './finding-filter.js'
import { t } from './findings-words.js'

function sayChoice(state: StateChoice): string {
  if (state === 'unsettled') return t('filter.unsettled')
  return state === 'all' ? t('filter.all') : t(`state.${state}`)
}

interface FindingFiltersProps {
  filter: FindingFilter
  findings: readonly Finding[]
  change: (name: keyof FindingFilter, value: string) => void
}

/** What the list is narrowed to, with how many each choice leaves. */
export function FindingFilters({ filter, findings, change }: FindingFiltersProps) {
  const left = (part: Partial<FindingFilter>) => narrowFindings(findings, { ...filter, ...part }).length
  const pontoons = [...new Set(findings.flatMap(({ pontoon }) => pontoon ?? []))].toSorted()
  return (
    <search className="finding-filters">
      <Choice
        label={t('filter.state')}
        value={filter.state}
        choices={STATE_CHOICES.map((state) => [state, sayChoice(state)] as const)}
        onChange={(value) => change('state', value === 'unsettled' ? '' : value)}
      />
      <Choice
        label={t('filter.direction')}
        value={filter.direction}
        choices={[
          ['', t('filter.any')],
          ...FINDING_DIRECTIONS.map(
            (each) => [each, `${t(`direction.${each}`)} (${left({ direction: each })})`] as const,
          ),
        ]}
        onChange={(value) => change('direction', value)}
      />
      <Choice
        label={t('filter.pontoon')}
        value={filter.pontoon}
        choices={[
          ['', t('filter.any')],
          ...pontoons.map((each) => [each, `${each} (${left({ pontoon: each })})`] as const),
        ]}
        onChange={(value) => change('pontoon', value)}
      />
      <Choice
        label={t('head.cause')}
        value={filter.cause}
        choices={[
          ['', t('filter.any')],
          ...CAUSES.map((each) => [each, `${sayCause(each)} (${left({ cause: each })})`] as const),
        ]}
        onChange={(value) => change('cause', value)}
      />
    </search>
  )
}

interface ChoiceProps {
  label: string
  value: string
  choices: readonly (readonly [value: string, text: string])[]
  onChange: (value: string) => void
}

function Choice({ label, value, choices, onChange }: ChoiceProps) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        {choices.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </div>
  )
}
