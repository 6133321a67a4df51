import type { AnodeView } from '../../../contract/anodes.js'
import type { MassUnit } from '../../../contract/vocabulary.js'
import type { FieldProblem } from '../../api/problem.js'
import { Segments } from './choices.js'
import type { AnodeDraft } from './draft.js'
import { EntryField } from './entry-field.js'
import { doubtOf } from './field-problems.js'

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
        label="Judged by"
        value={typed.method}
        choices={[
          ['scale', 'Scale'],
          ['dimensions', 'Calipers'],
          ['visual', 'Eye'],
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
          label="Wasted, by eye"
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
        label={`Mass of ${props.anode.name}`}
        unit={unit}
        large
      />
      <Segments
        label="Brushed to bare metal?"
        value={typed.cleaned === null ? null : typed.cleaned ? 'yes' : 'no'}
        choices={[
          ['yes', 'Yes'],
          ['no', 'No'],
        ]}
        onChange={(answer) => change({ cleaned: answer === 'yes' })}
      />
    </>
  )
}

function CaliperFields(props: MeasureFieldsProps) {
  const { lengthMm, widthMm, heightMm } = props.anode
  const sizes = [
    ['lengthMm', 'Length left', lengthMm],
    ['widthMm', 'Width left', widthMm],
    ['heightMm', 'Height left', heightMm],
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
          hint={whenNew === null ? 'new: not known' : `new: ${whenNew} mm`}
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
        It is right as typed
      </button>
      {isHeavier && typed.replacedBy === null && (
        <button type="button" className="button" onClick={() => change({ mass: '', replacedBy: replaced })}>
          It was replaced
        </button>
      )}
    </div>
  )
}
