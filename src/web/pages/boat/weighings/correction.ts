import type { z } from 'zod'
import { GRAMS_PER_UNIT } from '../../../../contract/grams.js'
import type { MassUnit } from '../../../../contract/vocabulary.js'
import type { ConfirmableDoubt, WeighingCorrection, WeighingView } from '../../../../contract/weighings.js'
import type { FieldProblem } from '../../../api/problem.js'
import { currentLocale } from '../../../wording/locale.js'
import { sayWord } from '../../../wording/spoken.js'
import { parseNumber } from '../../../wording/typed-number.js'

/** More than any scale shows, and nothing of what a change of unit leaves behind. */
const DIGITS = 6

/** What was measured, by how it was: the figures that a correction of such a weighing may change. */
const FIGURES = {
  scale: ['massG'],
  visual: ['wastedPercent'],
  dimensions: ['lengthMm', 'widthMm', 'heightMm'],
} as const satisfies Record<WeighingView['method'], readonly (keyof WeighingView)[]>

export type Figure = (typeof FIGURES)[WeighingView['method']][number]

/** A correction as it is typed. */
export interface TypedCorrection {
  readonly weighedOn: string
  readonly figures: Readonly<Partial<Record<Figure, string>>>
  /** Of the mass. */
  readonly unit: MassUnit
  readonly note: string
  readonly reason: string
  readonly confirm: readonly ConfirmableDoubt[]
}

export function figuresOf({ method }: Pick<WeighingView, 'method'>): readonly Figure[] {
  return FIGURES[method]
}

/** The form as it is opened: what was logged, in the unit of whoever corrects. */
export function typedFrom(weighing: WeighingView, unit: MassUnit): TypedCorrection {
  const typed = figuresOf(weighing).map((figure) => {
    const value = weighing[figure]
    return [figure, value === null ? '' : asTyped(figure === 'massG' ? value / GRAMS_PER_UNIT[unit] : value)] as const
  })
  return {
    weighedOn: weighing.weighedOn,
    figures: Object.fromEntries(typed),
    unit,
    note: weighing.note ?? '',
    reason: '',
    confirm: [],
  }
}

export interface Correction {
  readonly body: z.input<typeof WeighingCorrection>
  readonly isChanged: boolean
  /** Of what is no number: a request would make that value unknown. */
  readonly problems: readonly FieldProblem[]
}

/** What was changed, to be sent, and what cannot be. */
export function correctionOf(weighing: WeighingView, typed: TypedCorrection): Correction {
  const before = typedFrom(weighing, typed.unit)
  const problems: FieldProblem[] = []
  const figures = figuresOf(weighing).flatMap((figure) => {
    const text = typed.figures[figure] ?? ''
    if (text === before.figures[figure]) return []
    const value = parseNumber(text)
    if (Number.isNaN(value)) {
      problems.push({ pointer: `/${figure}`, detail: sayWord('notNumber', { text: text.trim() }) })
      return []
    }
    return [[figure, figure === 'massG' && value !== null ? { value, unit: typed.unit } : value] as const]
  })
  const note = typed.note.trim()
  const changes: Partial<z.input<typeof WeighingCorrection>> = {
    ...(typed.weighedOn !== weighing.weighedOn && { weighedOn: typed.weighedOn }),
    ...Object.fromEntries(figures),
    ...(note !== (weighing.note ?? '') && { note: note === '' ? null : note }),
  }
  const confirm = typed.confirm.length > 0 ? { confirm: [...typed.confirm] } : {}
  return {
    body: { ...changes, ...confirm, reason: typed.reason },
    isChanged: Object.keys(changes).length > 0,
    problems,
  }
}

function asTyped(value: number): string {
  return value.toLocaleString(currentLocale(), { maximumSignificantDigits: DIGITS, useGrouping: false })
}
