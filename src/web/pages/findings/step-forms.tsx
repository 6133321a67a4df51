import { useState } from 'react'
import type { ConfirmableCause } from '../../../contract/vocabulary.js'
import type { FindingDetail, StepBody } from '../../api/findings.js'
import { localToday } from '../../wording/days.js'
import { EntryField } from '../haul-out/entry-field.js'
import { CauseSelect } from './cause-select.js'
import { t } from './findings-words.js'
import { type FieldWrongs, useStepForm } from './use-step-form.js'

/** The steps that a finding's state allows. */
export function StepForms({ finding }: { finding: FindingDetail }) {
  const { state } = finding
  if (state === 'resolved' || state === 'closed') return <ReopenForm key={state} finding={finding} />
  return (
    <>
      {state === 'open' && <AcknowledgeForm finding={finding} />}
      <ResolveForm finding={finding} />
    </>
  )
}

const nothingMore = () => {}

function AcknowledgeForm({ finding }: { finding: FindingDetail }) {
  const [note, setNote] = useState('')
  const { form, wrongs, submit, failure, isPending } = useStepForm({
    finding,
    step: 'acknowledge',
    bodyOf: () => (note.trim() === '' ? {} : { note }),
    onDone: nothingMore,
  })
  return (
    <details className="panel fold finding-steps">
      <summary>
        <h2>{t('step.acknowledge')}</h2>
      </summary>
      <form ref={form} className="stack" onSubmit={submit} noValidate aria-label={t('step.acknowledge')}>
        <p className="soft">{t('step.acknowledgeText')}</p>
        <EntryField
          label={t('record.note')}
          hint={t('step.mayBeEmpty')}
          value={note}
          onChange={setNote}
          wrong={wrongs.get('note')}
        />
        <Failure text={failure} />
        <button type="submit" className="button button-main" aria-disabled={isPending}>
          {t('step.acknowledgeThis')}
        </button>
      </form>
    </details>
  )
}

interface ResolutionDraft {
  readonly text: string
  readonly on: string
  readonly cause: ConfirmableCause | ''
}

/** The request of a form, or what is missing for it. */
export function resolutionBody({ text, on, cause }: ResolutionDraft): StepBody<'resolve'> | FieldWrongs {
  const missing = new Map<string, string>()
  if (text.trim() === '') missing.set('text', t('step.needDone'))
  if (on === '') missing.set('on', t('step.needGone'))
  return cause === '' || missing.size > 0
    ? new Map([...missing, ...(cause === '' ? [['cause', t('step.needWas')] as const] : [])])
    : { text, on, cause }
}

function ResolveForm({ finding }: { finding: FindingDetail }) {
  const [draft, setDraft] = useState<ResolutionDraft>({
    text: '',
    on: localToday(new Date()),
    cause: finding.confirmedCause ?? '',
  })
  const change = (part: Partial<ResolutionDraft>) => setDraft((before) => ({ ...before, ...part }))
  const { form, wrongs, submit, failure, isPending } = useStepForm({
    finding,
    step: 'resolve',
    bodyOf: () => resolutionBody(draft),
    onDone: nothingMore,
  })
  return (
    <details className="panel fold finding-steps">
      <summary>
        <h2>{t('step.resolve')}</h2>
      </summary>
      <form ref={form} className="stack" onSubmit={submit} noValidate aria-label={t('step.resolve')}>
        <p className="soft">{t('step.resolveText')}</p>
        <ResolutionFields draft={draft} change={change} wrongs={wrongs} />
        <Failure text={failure} />
        <button type="submit" className="button button-main" aria-disabled={isPending}>
          {t('step.resolveThis')}
        </button>
      </form>
    </details>
  )
}

interface ResolutionFieldsProps {
  draft: ResolutionDraft
  change: (part: Partial<ResolutionDraft>) => void
  wrongs: FieldWrongs
}

function ResolutionFields({ draft, change, wrongs }: ResolutionFieldsProps) {
  return (
    <>
      <EntryField
        label={t('step.done')}
        value={draft.text}
        onChange={(text) => change({ text })}
        wrong={wrongs.get('text')}
      />
      <EntryField
        label={t('step.gone')}
        type="date"
        value={draft.on}
        onChange={(on) => change({ on })}
        wrong={wrongs.get('on')}
      />
      <CauseSelect
        label={t('step.was')}
        none={t('step.chooseWas')}
        value={draft.cause}
        onChange={(cause) => change({ cause })}
        wrong={wrongs.get('cause')}
      />
    </>
  )
}

function ReopenForm({ finding }: { finding: FindingDetail }) {
  const [note, setNote] = useState('')
  const { form, wrongs, submit, failure, isPending } = useStepForm({
    finding,
    step: 'reopen',
    bodyOf: () => (note.trim() === '' ? new Map([['note', t('step.needWhy')]]) : { note }),
    onDone: nothingMore,
  })
  return (
    <form ref={form} className="panel stack finding-steps" onSubmit={submit} noValidate aria-labelledby="reopen">
      <h2 id="reopen">{t('step.reopen')}</h2>
      <p className="soft">{t('step.reopenText')}</p>
      <EntryField label={t('step.why')} value={note} onChange={setNote} wrong={wrongs.get('note')} />
      <Failure text={failure} />
      <button type="submit" className="button" aria-disabled={isPending}>
        {t('step.reopenThis')}
      </button>
    </form>
  )
}

function Failure({ text }: { text: string | null }) {
  if (text === null) return null
  return (
    <p className="field-wrong" role="alert">
      <span>{t('step.failed', { reason: text })}</span>
    </p>
  )
}
