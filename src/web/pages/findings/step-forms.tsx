import { useState } from 'react'
import type { ConfirmableCause } from '../../../contract/vocabulary.js'
import type { FindingDetail, StepBody } from '../../api/findings.js'
import { localToday } from '../../wording/days.js'
import { EntryField } from '../haul-out/entry-field.js'
import { CauseSelect } from './cause-select.js'
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
        <h2>Acknowledge</h2>
      </summary>
      <form ref={form} className="stack" onSubmit={submit} noValidate aria-label="Acknowledge">
        <p className="soft">Says that somebody has seen it and looks after it. It stays on the list.</p>
        <EntryField label="Note" hint="May stay empty." value={note} onChange={setNote} wrong={wrongs.get('note')} />
        <Failure text={failure} />
        <button type="submit" className="button button-main" aria-disabled={isPending}>
          Acknowledge this finding
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
  if (text.trim() === '') missing.set('text', 'Say what was done.')
  if (on === '') missing.set('on', 'Say since when the fault is gone.')
  return cause === '' || missing.size > 0
    ? new Map([...missing, ...(cause === '' ? [['cause', 'Say what it was.'] as const] : [])])
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
        <h2>Resolve</h2>
      </summary>
      <form ref={form} className="stack" onSubmit={submit} noValidate aria-label="Resolve">
        <p className="soft">Once the fault is mended. If it comes back, the finding is opened again by itself.</p>
        <ResolutionFields draft={draft} change={change} wrongs={wrongs} />
        <Failure text={failure} />
        <button type="submit" className="button button-main" aria-disabled={isPending}>
          Resolve this finding
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
        label="What was done"
        value={draft.text}
        onChange={(text) => change({ text })}
        wrong={wrongs.get('text')}
      />
      <EntryField
        label="Fault gone since"
        type="date"
        value={draft.on}
        onChange={(on) => change({ on })}
        wrong={wrongs.get('on')}
      />
      <CauseSelect
        label="What it was"
        none="Choose what it was"
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
    bodyOf: () => (note.trim() === '' ? new Map([['note', 'Say why.']]) : { note }),
    onDone: nothingMore,
  })
  return (
    <form ref={form} className="panel stack finding-steps" onSubmit={submit} noValidate aria-labelledby="reopen">
      <h2 id="reopen">Reopen</h2>
      <p className="soft">If the fault was not mended after all, or came back.</p>
      <EntryField label="Why" value={note} onChange={setNote} wrong={wrongs.get('note')} />
      <Failure text={failure} />
      <button type="submit" className="button" aria-disabled={isPending}>
        Reopen this finding
      </button>
    </form>
  )
}

function Failure({ text }: { text: string | null }) {
  if (text === null) return null
  return (
    <p className="field-wrong" role="alert">
      <span>Not done: {text}</span>
    </p>
  )
}
