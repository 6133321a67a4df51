import type { AnodeView } from '../../../contract/anodes.js'
import type { MassUnit } from '../../../contract/vocabulary.js'
import type { FieldProblem } from '../../api/problem.js'
import { Segments } from './choices.js'
import type { AnodeDraft } from './draft.js'
import { EntryField } from './entry-field.js'
import { doubtOf } from './field-problems.js'
import { t } from './haul-out-words.js'

export interface MeasureFieldsProps {
  anode: AnodeView
  typed: AnodeDraft
  unit: MassUnit
  problems: readonly FieldProblem[]
  change: (part: Partial<AnodeDraft>) => void
}

/** How much is left: on the scale, by calipers, or by eye. */
export function MeasureFields(props: MeasureFieldsProps) {
  const { typed, change } = props
  return (
    <>
      <Segments
        label={t('measure.by')}
        value={typed.method}
        choices={[
          ['scale', t('measure.scale')],
          ['dimensions', t('measure.calipers')],
          ['visual', t('measure.eye')],
        ]}
        onChange={(method) => change({ method })}
      />
      {typed.method === 'scale' && <ScaleFields {...props} />}
      {typed.method === 'dimensions' && <CaliperFields {...props} />}
      {typed.method === 'visual' && (
        <MeasureField
          {...props}
          field="wastedPercent"
          draftField="wastedPercent"
          label={t('measure.wasted')}
          unit="%"
          large
        />
      )}
    </>
  )
}

function ScaleFields(props: MeasureFieldsProps) {
  const { typed, unit, change } = props
  return (
    <>
      <MeasureField
        {...props}
        field="massG"
        draftField="mass"
        label={t('measure.mass', { anode: props.anode.name })}
        unit={unit}
        large
      />
      <Segments
        label={t('measure.brushed')}
        value={typed.cleaned === null ? null : typed.cleaned ? 'yes' : 'no'}
        choices={[
          ['yes', t('measure.yes')],
          ['no', t('measure.no')],
        ]}
        onChange={(answer) => change({ cleaned: answer === 'yes' })}
      />
    </>
  )
}

function CaliperFields(props: MeasureFieldsProps) {
  const { lengthMm, widthMm, heightMm } = props.anode
  const sizes = [
    ['lengthMm', t('measure.length'), lengthMm],
    ['widthMm', t('measure.width'), widthMm],
    ['heightMm', t('measure.height'), heightMm],
  ] as const
  return (
    <div className="three">
      {sizes.map(([field, label, whenNew]) => (
        <MeasureField
          key={field}
          {...props}
          field={field}
          draftField={field}
          label={label}
          unit="mm"
          hint={whenNew === null ? t('measure.newUnknown') : t('measure.new', { size: whenNew })}
        />
      ))}
    </div>
  )
}

interface MeasureFieldProps extends Omit<MeasureFieldsProps, 'unit'> {
  field: string
  draftField: 'mass' | 'lengthMm' | 'widthMm' | 'heightMm' | 'wastedPercent'
  label: string
  /** Behind the figure. */
  unit: string
  hint?: string
  large?: boolean
}

function MeasureField({
  typed,
  problems,
  change,
  field,
  draftField,
  label,
  unit,
  hint,
  large = false,
}: MeasureFieldProps) {
  const problem = problems.find((one) => one.pointer === field)
  return (
    <EntryField
      label={label}
      type="number"
      unit={unit}
      hint={hint}
      large={large}
      value={typed[draftField]}
      onChange={(value) => change({ [draftField]: value })}
      wrong={problem?.detail}
      remedy={problem && <Remedy problem={problem} typed={typed} change={change} />}
    />
  )
}

interface RemedyProps {
  problem: FieldProblem
  typed: AnodeDraft
  change: (part: Partial<AnodeDraft>) => void
}

/** What may be done about a doubt besides mending the figure: say that it is right, or that the anode is a new one. */
function Remedy({ problem, typed, change }: RemedyProps) {
  const doubt = doubtOf(problem)
  if (doubt === undefined) return null
  const isHeavier = doubt === 'heavier-than-before' || doubt === 'larger-than-new'
  const replaced = { alloy: '', shape: '', coreMass: '', grossMass: typed.mass } as const
  return (
    <div className="chips">
      <button type="button" className="button" onClick={() => change({ confirm: [...typed.confirm, doubt] })}>
        {t('measure.right')}
      </button>
      {isHeavier && typed.replacedBy === null && (
        <button type="button" className="button" onClick={() => change({ mass: '', replacedBy: replaced })}>
          {t('measure.replaced')}
        </button>
      )}
    </div>
  )
}
