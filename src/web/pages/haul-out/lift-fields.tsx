import { useId } from 'react'
import { MASS_UNITS } from '../../../contract/vocabulary.js'
import { useBerths } from '../../api/boats.js'
import type { FieldProblem } from '../../api/problem.js'
import { Segments } from './choices.js'
import { BERTH_PREFIX, type HaulOutDraft, STAYS_ASHORE } from './draft.js'
import { EntryField } from './entry-field.js'
import { t } from './haul-out-words.js'

interface LiftFieldsProps {
  draft: HaulOutDraft
  problems: readonly FieldProblem[]
  change: (part: Partial<HaulOutDraft>) => void
}

const wrongAt = (problems: readonly FieldProblem[], pattern: RegExp) =>
  problems.find((problem) => pattern.test(problem.pointer))?.detail

/** When it was lifted, and the unit all masses are read in. */
export function DayFields({ draft, problems, change }: LiftFieldsProps) {
  const elsewhere = problems.filter(({ pointer }) => !/^(hauledOn|relaunchedOn|relaunch|note)/.test(pointer))
  return (
    <section className="panel two" aria-label={t('day.section')}>
      <EntryField
        label={t('day.on')}
        type="date"
        value={draft.hauledOn}
        onChange={(hauledOn) => change({ hauledOn })}
        wrong={wrongAt(problems, /^hauledOn/)}
      />
      <Segments
        label={t('day.unit')}
        value={draft.unit}
        choices={MASS_UNITS.map((unit) => [unit, unit] as const)}
        onChange={(unit) => change({ unit })}
      />
      {elsewhere.map((problem) => (
        <p key={problem.detail} className="field-wrong">
          <span>{problem.detail}</span>
        </p>
      ))}
    </section>
  )
}

/** When and where it goes back into the water. */
export function RelaunchFields({
  draft,
  problems,
  change,
  currentBerth,
}: LiftFieldsProps & { currentBerth: string | null }) {
  const id = useId()
  const berths = useBerths()
  const wrong = wrongAt(problems, /^relaunch(\/|$)/)
  return (
    <section className="panel two" aria-label={t('back.section')}>
      <EntryField
        label={t('back.on')}
        type="date"
        hint={t('back.hint')}
        value={draft.relaunchedOn}
        onChange={(relaunchedOn) => change({ relaunchedOn })}
        wrong={wrongAt(problems, /^relaunchedOn/)}
      />
      <div className="field">
        <label htmlFor={id}>{t('back.berth')}</label>
        <select id={id} value={draft.backAt} onChange={(event) => change({ backAt: event.target.value })}>
          <option value="">
            {[t('back.asStays'), currentBerth !== null && t('back.now', { berth: currentBerth })]
              .filter(Boolean)
              .join(' ')}
          </option>
          <option value={STAYS_ASHORE}>{t('back.ashore')}</option>
          {berths.data?.map(({ name }) => (
            <option key={name} value={`${BERTH_PREFIX}${name}`}>
              {name}
            </option>
          ))}
        </select>
        {wrong && <p className="field-wrong">{wrong}</p>}
      </div>
      <EntryField
        label={t('back.note')}
        value={draft.note}
        onChange={(note) => change({ note })}
        wrong={wrongAt(problems, /^note/)}
      />
    </section>
  )
}
