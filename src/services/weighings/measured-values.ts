import type { Condition, SUBMERGED_IN } from '../../contract/vocabulary.js'
import type { ConfirmableDoubt, NewWeighing } from '../../contract/weighings.js'
import type { WeighingRecord } from '../../db/repositories/weighings.js'
import type { FieldError } from '../errors.js'
import { type Doubt, judgeWeighing } from './plausibility.js'
import { type AnodeWhenFitted, type KnownMass, knownMassOf, type Measured } from './weighing-errors.js'

/** A weighing as it will be stored, with nothing left open. */
export interface MeasuredValues extends Measured {
  readonly submergedIn: (typeof SUBMERGED_IN)[number] | null
  readonly conditions: Condition[]
  readonly note: string | null
}

type Given = Omit<NewWeighing, 'weighedOn' | 'confirm'>

/** What was given of a weighing, null where nothing was. */
export function measuredValues(given: Given, weighedOn: string): MeasuredValues {
  return {
    weighedOn,
    method: given.method,
    massG: given.massG ?? null,
    resolutionG: given.resolutionG ?? null,
    cleaned: given.cleaned ?? null,
    submergedMassG: given.submergedMassG ?? null,
    submergedIn: given.submergedIn ?? null,
    wastedPercent: given.wastedPercent ?? null,
    lengthMm: given.lengthMm ?? null,
    widthMm: given.widthMm ?? null,
    heightMm: given.heightMm ?? null,
    conditions: given.conditions ?? [],
    note: given.note ?? null,
  }
}

/** Whether two weighings say the same: a phone that repeats itself is no second opinion. */
export function sameMeasured(one: MeasuredValues, other: MeasuredValues): boolean {
  const { conditions: ones, ...rest } = one
  const fields = Object.keys(rest) as (keyof typeof rest)[]
  const sameCodes = [...ones].sort().join() === [...other.conditions].sort().join()
  return sameCodes && fields.every((field) => one[field] === other[field])
}

/** The last mass known before a day and the first after it; a weighing on the day itself is neither. */
export function neighboursOf(
  day: string,
  anode: AnodeWhenFitted,
  weighings: readonly WeighingRecord[],
): { previous: KnownMass | null; next: KnownMass | null } {
  const known = weighings.flatMap((weighing) => knownMassOf(weighing, anode) ?? [])
  return {
    previous: known.filter((mass) => mass.on < day).at(-1) ?? null,
    next: known.find((mass) => mass.on > day) ?? null,
  }
}

/**
 * What speaks against a weighing of an anode beside the others logged of it.
 *
 * @param others the anode's other weighings, in the order of their days
 */
export function doubtsOf(
  anode: AnodeWhenFitted,
  others: readonly WeighingRecord[],
  weighing: MeasuredValues,
  asked: { readonly today: string; readonly confirm?: readonly ConfirmableDoubt[] | undefined },
): Doubt[] {
  return judgeWeighing({
    anode,
    ...neighboursOf(weighing.weighedOn, anode, others),
    weighing,
    today: asked.today,
    confirmed: new Set(asked.confirm),
  })
}

/** Doubts as errors of the fields below `at`. */
export function asFieldErrors(doubts: readonly Doubt[], at = '#'): FieldError[] {
  return doubts.map(({ field, code, detail }) => ({ pointer: `${at}/${field}`, detail, code }))
}
