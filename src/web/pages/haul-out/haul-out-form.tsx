import { useMutation } from '@tanstack/react-query'
import { type FormEvent, useRef, useState } from 'react'
import type { AnodeView } from '../../../contract/anodes.js'
import type { BoatView } from '../../../contract/boats.js'
import type { Forecast } from '../../api/forecasts.js'
import { ServiceProblem } from '../../api/problem.js'
import { AnodeCard } from './anode-card.js'
import { UNTOUCHED } from './draft.js'
import { draftBody } from './draft-body.js'
import { countProblems, NO_PROBLEMS, sortProblems, withoutField } from './field-problems.js'
import { t } from './haul-out-words.js'
import { DayFields, RelaunchFields } from './lift-fields.js'
import { type Logged, logWithPhotos } from './log-haul-out.js'
import type { useDraft } from './use-draft.js'

interface HaulOutFormProps {
  boat: BoatView
  anodes: readonly AnodeView[]
  forecasts: ReadonlyMap<string, Forecast>
  drafting: ReturnType<typeof useDraft>
  onLogged: (logged: Logged) => void
}

/** The form: the day, each anode in place, the way back into the water. Sent as one request. */
export function HaulOutForm({ boat, anodes, forecasts, drafting, onLogged }: HaulOutFormProps) {
  const { draft, change, changeAnode } = drafting
  const { photos, setPhotosOf, problems, mend, submit, log, alert } = useSubmit({ boat, anodes, drafting, onLogged })
  return (
    <form className="stack" onSubmit={submit} noValidate>
      <div ref={alert} tabIndex={-1} role="alert" className="unhidden">
        <Refusal problems={countProblems(problems)} error={log.error} />
      </div>
      <DayFields draft={draft} change={change} problems={problems.form} />
      {anodes.length === 0 && <p className="panel">{t('noAnode')}</p>}
      {anodes.map((anode) => (
        <AnodeCard
          key={anode.id}
          anode={anode}
          forecast={forecasts.get(anode.name)}
          hull={boat.hull}
          typed={draft.anodes[anode.name] ?? UNTOUCHED}
          unit={draft.anodes[anode.name]?.unit ?? draft.unit}
          problems={problems.anodes.get(anode.name) ?? []}
          photos={photos.get(anode.name) ?? []}
          change={(part) => {
            mend(anode.name, Object.keys(part))
            changeAnode(anode.name, part)
          }}
          changePhotos={(files) => setPhotosOf(anode.name, files)}
        />
      ))}
      <RelaunchFields draft={draft} change={change} problems={problems.form} currentBerth={boat.currentBerth} />
      <button type="submit" className="button button-main log-button" disabled={log.isPending}>
        {log.isPending ? t('logging') : t('submit')}
      </button>
    </form>
  )
}

type Submitting = Omit<HaulOutFormProps, 'forecasts'>

function useSubmit({ boat, anodes, drafting, onLogged }: Submitting) {
  const { draft, renewKey, finish } = drafting
  const [photos, setPhotos] = useState<ReadonlyMap<string, readonly File[]>>(new Map())
  const [problems, setProblems] = useState(NO_PROBLEMS)
  const alert = useRef<HTMLDivElement>(null)
  const {
    body,
    sent,
    problems: unreadable,
  } = draftBody(
    draft,
    anodes.map((anode) => anode.name),
  )
  const log = useMutation({
    mutationFn: () => logWithPhotos({ boat: boat.name, body, idempotencyKey: draft.idempotencyKey, photos }),
    onSuccess: (logged) => {
      finish()
      onLogged(logged)
    },
    onError: (error) => {
      if (error instanceof ServiceProblem && error.status < 500) {
        renewKey()
        setProblems(sortProblems(error.fields, sent))
      }
      requestAnimationFrame(() => alert.current?.focus())
    },
  })
  const submit = (event: FormEvent) => {
    event.preventDefault()
    setProblems(sortProblems(unreadable, sent))
    if (unreadable.length === 0) log.mutate()
    else alert.current?.focus()
  }
  const mend = (anode: string, fields: readonly string[]) => setProblems((before) => mended(before, anode, fields))
  const setPhotosOf = (anode: string, files: readonly File[]) =>
    setPhotos((before) => new Map(before).set(anode, files))
  return { photos, setPhotosOf, problems, mend, submit, log, alert }
}

/** A field that is typed in anew has no error any more until it is sent again; nor has a doubt that was confirmed. */
function mended(problems: typeof NO_PROBLEMS, anode: string, fields: readonly string[]): typeof NO_PROBLEMS {
  const pointers = fields.flatMap((field) => POINTERS_OF[field] ?? [field])
  return pointers.reduce((left, pointer) => withoutField(left, anode, pointer), problems)
}

const MEASURED = ['massG', 'lengthMm', 'widthMm', 'heightMm', 'wastedPercent']

/** Where the service sees what a field of the form is about. */
const POINTERS_OF: Readonly<Record<string, readonly string[]>> = {
  mass: ['massG'],
  method: MEASURED,
  confirm: MEASURED,
  replacedBy: [
    'massG',
    'replacedBy',
    'replacedBy/grossMassG',
    'replacedBy/coreMassG',
    'replacedBy/alloy',
    'replacedBy/shape',
  ],
}

function Refusal({ problems, error }: { problems: number; error: Error | null }) {
  if (problems > 0) {
    return <p className="field-wrong panel">{t('second', { count: problems })}</p>
  }
  if (error === null || (error instanceof ServiceProblem && error.fields.length > 0)) return null
  return <p className="field-wrong panel">{t('failed', { reason: error.message })}</p>
}
