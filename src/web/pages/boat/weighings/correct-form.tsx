import { type FormEvent, useEffect, useRef, useState } from 'react'
import { MASS_UNITS } from '../../../../contract/vocabulary.js'
import type { WeighingView } from '../../../../contract/weighings.js'
import { type FieldProblem, ServiceProblem } from '../../../api/problem.js'
import { useCorrectWeighing, useDeleteWeighing, useWeighing } from '../../../api/weighings.js'
import { Trouble, Waiting } from '../../../shell/waiting.js'
import { axisUnit } from '../../../wording/amounts.js'
import { sayDay } from '../../../wording/days.js'
import { Segments } from '../../haul-out/choices.js'
import { EntryField } from '../../haul-out/entry-field.js'
import { doubtOf } from '../../haul-out/field-problems.js'
import { t } from '../boat-words.js'
import { correctionOf, type Figure, figuresOf, type TypedCorrection, typedFrom } from './correction.js'

interface CorrectFormProps {
  id: string
  anode: string
  /** With the job that makes the forecasts anew. */
  onSaved: (refit: string) => void
  /** Saved or not. */
  onClose: () => void
}

/** One weighing, to be put right or taken out. */
export function CorrectForm({ id, ...rest }: CorrectFormProps) {
  const weighing = useWeighing(id)
  if (weighing.isPending) return <Waiting />
  if (weighing.isError) return <Trouble error={weighing.error} retry={weighing.refetch} />
  // Read anew after it was changed elsewhere: then the form begins with what stands now.
  return <Fields key={weighing.data.version} weighing={weighing.data} onStale={weighing.refetch} {...rest} />
}

interface FieldsProps extends Omit<CorrectFormProps, 'id'> {
  weighing: WeighingView
  onStale: () => unknown
}

const STALE = 412

function Fields({ weighing, anode, onSaved, onClose, onStale }: FieldsProps) {
  const [typed, setTyped] = useState<TypedCorrection>(() => typedFrom(weighing, axisUnit(weighing.massG ?? 0).name))
  const [own, setOwn] = useState<readonly FieldProblem[]>([])
  const correct = useCorrectWeighing(weighing)
  const remove = useDeleteWeighing(weighing)
  const form = useRef<HTMLFormElement>(null)
  useEffect(() => form.current?.querySelector('input')?.focus(), [])
  const error = correct.error ?? remove.error
  const isStale = error instanceof ServiceProblem && error.status === STALE
  const problems = [...own, ...(error instanceof ServiceProblem ? error.fields : [])]
  const change = (part: Partial<TypedCorrection>) => setTyped({ ...typed, ...part })
  const problemAt = (field: string) => problems.find(({ pointer }) => new RegExp(`^/${field}(/|$)`).test(pointer))
  const save = (event: FormEvent) => {
    event.preventDefault()
    const { body, isChanged, problems } = correctionOf(weighing, typed)
    setOwn(isChanged || problems.length > 0 ? problems : [{ pointer: '/weighedOn', detail: t('correct.same') }])
    if (isChanged && problems.length === 0) correct.mutate(body, { onSuccess: ({ refit }) => onSaved(refit.id) })
  }
  if (correct.isSuccess || remove.isSuccess) {
    return (
      <div className="correct stack-tight">
        <p role="status">{t(remove.isSuccess ? 'correct.deleted' : 'correct.saved')}</p>
        <p>
          <button type="button" className="button" onClick={onClose}>
            {t('correct.close')}
          </button>
        </p>
      </div>
    )
  }
  return (
    <form
      ref={form}
      className="correct stack"
      onSubmit={save}
      aria-label={t('correct.of', { anode, day: sayDay(weighing.weighedOn) })}
    >
      <EntryField
        label={t('date')}
        type="date"
        value={typed.weighedOn}
        onChange={(weighedOn) => change({ weighedOn })}
        wrong={problemAt('weighedOn')?.detail}
      />
      {figuresOf(weighing).map((figure) => (
        <FigureField key={figure} figure={figure} typed={typed} change={change} problem={problemAt(figure)} />
      ))}
      <EntryField
        label={t('correct.note')}
        value={typed.note}
        onChange={(note) => change({ note })}
        wrong={problemAt('note')?.detail}
      />
      <EntryField
        label={t('correct.reason')}
        hint={t('correct.reasonHint')}
        value={typed.reason}
        onChange={(reason) => change({ reason })}
        wrong={problemAt('reason')?.detail}
      />
      {isStale && (
        <div role="alert" className="stack-tight">
          <p className="field-wrong">{t('correct.stale')}</p>
          <button type="button" className="button" onClick={() => void onStale()}>
            {t('correct.readAgain')}
          </button>
        </div>
      )}
      {error !== null && !isStale && problems.length === 0 && (
        <p role="alert" className="field-wrong">
          {error.message}
        </p>
      )}
      <p className="chips">
        <button type="submit" className="button button-main" disabled={correct.isPending}>
          {t('correct.save')}
        </button>
        <button type="button" className="button" onClick={onClose}>
          {t('correct.cancel')}
        </button>
        <Delete isBusy={remove.isPending} onDelete={() => remove.mutate(typed.reason)} />
      </p>
    </form>
  )
}

interface FigureFieldProps {
  figure: Figure
  typed: TypedCorrection
  change: (part: Partial<TypedCorrection>) => void
  problem: FieldProblem | undefined
}

function FigureField({ figure, typed, change, problem }: FigureFieldProps) {
  const doubt = problem && doubtOf(problem)
  // As when a haul-out is logged: what was looked at is no fault any more.
  const open = doubt !== undefined && typed.confirm.includes(doubt) ? undefined : problem
  const isMass = figure === 'massG'
  return (
    <>
      <EntryField
        label={t(`correct.figure.${figure}`)}
        type="number"
        unit={isMass ? typed.unit : figure === 'wastedPercent' ? '%' : 'mm'}
        value={typed.figures[figure] ?? ''}
        onChange={(value) => change({ figures: { ...typed.figures, [figure]: value }, confirm: [] })}
        wrong={open?.detail}
        remedy={
          open &&
          doubt && (
            <button type="button" className="button" onClick={() => change({ confirm: [...typed.confirm, doubt] })}>
              {t('correct.right')}
            </button>
          )
        }
      />
      {isMass && (
        <Segments
          label={t('correct.unit')}
          value={typed.unit}
          choices={MASS_UNITS.map((unit) => [unit, unit] as const)}
          onChange={(unit) => change({ unit, confirm: [] })}
        />
      )}
    </>
  )
}

/** Asks once more: there is no way back but to log it again. */
function Delete({ isBusy, onDelete }: { isBusy: boolean; onDelete: () => void }) {
  const [isAsking, setIsAsking] = useState(false)
  if (!isAsking) {
    return (
      <button type="button" className="button button-plain" onClick={() => setIsAsking(true)}>
        {t('correct.delete')}
      </button>
    )
  }
  return (
    <button type="button" className="button" disabled={isBusy} onClick={onDelete}>
      {t('correct.deleteSure')}
    </button>
  )
}
