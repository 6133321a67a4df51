import { useId, useState } from 'react'
import type { ConfirmableCause } from '../../../contract/vocabulary.js'
import { type Finding, type FindingDetail, type StepBody, useChecks } from '../../api/findings.js'
import { localToday } from '../../wording/days.js'
import { EntryField } from '../haul-out/entry-field.js'
import { BeforeAfter } from './cause-bar.js'
import { CauseSelect } from './cause-select.js'
import { sayCheck, sayOutcome } from './check-words.js'
import { t } from './findings-words.js'
import { type FieldWrongs, useStepForm } from './use-step-form.js'

interface Recorded {
  readonly before: Finding['causes']
  readonly after: Finding['causes']
}

/** Records what a check has shown; the probabilities move, and both are shown. */
export function RecordCheck({ finding }: { finding: FindingDetail }) {
  const [recorded, setRecorded] = useState<Recorded | null>(null)
  if (recorded !== null) {
    return (
      <section className="panel stack record-check" aria-labelledby="recorded">
        <h2 id="recorded">{t('record.recorded')}</h2>
        <BeforeAfter before={recorded.before} after={recorded.after} caption={t('record.made')} />
        <p>
          <button type="button" className="button" onClick={() => setRecorded(null)}>
            {t('record.another')}
          </button>
        </p>
      </section>
    )
  }
  const finish = ({ causes: after }: FindingDetail) => setRecorded({ before: finding.causes, after })
  return <CheckForm finding={finding} onDone={finish} />
}

interface CheckDraft {
  readonly check: string
  readonly outcome: string
  readonly on: string
  readonly note: string
  readonly confirms: ConfirmableCause | ''
}

/** The request of a form, or what is missing for it. */
export function checkBody(draft: CheckDraft): StepBody<'checks'> | FieldWrongs {
  if (draft.check === '') return new Map([['check', t('record.needCheck')]])
  if (draft.outcome === '') return new Map([['outcome', t('record.needOutcome')]])
  if (draft.on === '') return new Map([['on', t('record.needDay')]])
  return {
    check: draft.check,
    outcome: draft.outcome,
    on: draft.on,
    ...(draft.note.trim() !== '' && { note: draft.note }),
    ...(draft.confirms !== '' && { confirms: draft.confirms }),
  }
}

function CheckForm({ finding, onDone }: { finding: FindingDetail; onDone: (detail: FindingDetail) => void }) {
  const next = finding.nextCheck
  const [draft, setDraft] = useState<CheckDraft>(() => newDraft(next?.check ?? ''))
  const change = (part: Partial<CheckDraft>) => setDraft((before) => ({ ...before, ...part }))
  const { form, wrongs, submit, failure, isPending } = useStepForm({
    finding,
    step: 'checks',
    bodyOf: () => checkBody(draft),
    onDone,
  })
  const foreseen =
    next?.check === draft.check ? next.outcomes.find(({ outcome }) => outcome === draft.outcome) : undefined
  return (
    <form ref={form} className="panel stack record-check" onSubmit={submit} noValidate aria-labelledby="record-check">
      <h2 id="record-check">{t('record.title')}</h2>
      <CheckChoice finding={finding} draft={draft} change={change} wrongs={wrongs} />
      {foreseen && <BeforeAfter before={finding.causes} after={foreseen.would} caption={t('record.would')} />}
      <CircumstanceFields draft={draft} change={change} wrongs={wrongs} />
      {failure !== null && (
        <p className="field-wrong" role="alert">
          <span>{t('record.failed', { reason: failure })}</span>
        </p>
      )}
      <button type="submit" className="button button-main" aria-disabled={isPending}>
        {t('record.submit')}
      </button>
    </form>
  )
}

function newDraft(check: string): CheckDraft {
  return { check, outcome: '', on: localToday(new Date()), note: '', confirms: '' }
}

interface FieldsProps {
  draft: CheckDraft
  change: (part: Partial<CheckDraft>) => void
  wrongs: FieldWrongs
}

function CircumstanceFields({ draft, change, wrongs }: FieldsProps) {
  return (
    <>
      <EntryField
        label={t('record.on')}
        type="date"
        value={draft.on}
        onChange={(on) => change({ on })}
        wrong={wrongs.get('on')}
      />
      <EntryField
        label={t('record.note')}
        hint={t('record.noteHint')}
        value={draft.note}
        onChange={(note) => change({ note })}
        wrong={wrongs.get('note')}
      />
      <CauseSelect
        label={t('record.settles')}
        none={t('record.notYet')}
        value={draft.confirms}
        onChange={(confirms) => change({ confirms })}
        wrong={wrongs.get('confirms')}
      />
    </>
  )
}

interface CheckChoiceProps extends FieldsProps {
  finding: FindingDetail
}

/** Which check was made, the one proposed unless said otherwise, and what came of it. */
function CheckChoice({ finding: { nextCheck }, draft, change, wrongs }: CheckChoiceProps) {
  const id = useId()
  const wrongCheck = wrongs.get('check')
  const checks = useChecks()
  const known = checks.data ?? (nextCheck ? [nextCheck] : [])
  const outcomes = known.find(({ check }) => check === draft.check)?.outcomes ?? []
  return (
    <>
      <div className="field">
        <label htmlFor={id}>{t('record.check')}</label>
        <select
          id={id}
          value={draft.check}
          aria-invalid={wrongCheck !== undefined}
          aria-describedby={wrongCheck === undefined ? undefined : `${id}-wrong-check`}
          onChange={(event) => change({ check: event.target.value, outcome: '' })}
        >
          {draft.check === '' && <option value="">{t('record.choose')}</option>}
          {known.map((each) => (
            <option key={each.check} value={each.check}>
              {each.check === nextCheck?.check ? t('record.proposed', { check: sayCheck(each) }) : sayCheck(each)}
            </option>
          ))}
        </select>
        {wrongCheck !== undefined && (
          <p className="field-wrong" id={`${id}-wrong-check`}>
            <span>{wrongCheck}</span>
          </p>
        )}
      </div>
      {outcomes.length > 0 && (
        <Outcomes
          check={draft.check}
          outcomes={outcomes}
          value={draft.outcome}
          change={change}
          wrong={wrongs.get('outcome')}
        />
      )}
    </>
  )
}

interface OutcomesProps {
  check: string
  outcomes: readonly { readonly outcome: string; readonly text: string }[]
  value: string
  change: (part: Partial<CheckDraft>) => void
  wrong: string | undefined
}

function Outcomes({ check, outcomes, value, change, wrong }: OutcomesProps) {
  const id = useId()
  return (
    <fieldset className="field" aria-describedby={wrong === undefined ? undefined : `${id}-wrong`}>
      <legend>{t('record.found')}</legend>
      <div className="choices">
        {outcomes.map(({ outcome, text }) => (
          <label key={outcome} className="choice">
            <input
              type="radio"
              name={id}
              checked={value === outcome}
              aria-invalid={wrong !== undefined}
              onChange={() => change({ outcome })}
            />
            <span>{sayOutcome(check, { outcome, text })}</span>
          </label>
        ))}
      </div>
      {wrong !== undefined && (
        <p className="field-wrong" id={`${id}-wrong`}>
          <span>{wrong}</span>
        </p>
      )}
    </fieldset>
  )
}
