import type { z } from 'zod'
import type { AnodeAtLift, NewHaulOut, Replacement } from '../../../contract/haul-outs.js'
import type { MassUnit } from '../../../contract/vocabulary.js'
import type { FieldProblem } from '../../api/problem.js'
import { sayWord } from '../../wording/spoken.js'
import { parseNumber } from '../../wording/typed-number.js'
import {
  type AnodeDraft,
  BERTH_PREFIX,
  type HaulOutDraft,
  isTouched,
  type ReplacementDraft,
  STAYS_ASHORE,
} from './draft.js'

/** What a form comes to: the request, the anodes in the order they are sent, and what cannot be read as a number. */
export interface DraftBody {
  readonly body: z.input<typeof NewHaulOut>
  readonly sent: readonly string[]
  readonly problems: readonly FieldProblem[]
}

/**
 * Reads a form. Only numbers are checked here; what they mean is the service's to judge.
 *
 * @param inPlace names of the anodes on the boat, in the order of the form
 */
export function draftBody(draft: HaulOutDraft, inPlace: readonly string[]): DraftBody {
  const sent = inPlace.filter((anode) => draft.anodes[anode] && isTouched(draft.anodes[anode]))
  const problems: FieldProblem[] = []
  const weighings = sent.flatMap((anode, index) => {
    const typed = draft.anodes[anode]
    return typed
      ? [weighingOf(anode, typed, typed.unit ?? draft.unit, numberReader(problems, `/weighings/${index}`))]
      : []
  })
  return {
    sent,
    problems,
    body: {
      hauledOn: draft.hauledOn,
      ...(draft.relaunchedOn !== '' && { relaunchedOn: draft.relaunchedOn }),
      ...(draft.note.trim() !== '' && { note: draft.note.trim() }),
      ...(draft.backAt !== '' && { relaunch: { berth: berthOf(draft.backAt) } }),
      weighings,
    },
  }
}

type ReadNumber = (field: string, text: string) => number | null

function numberReader(problems: FieldProblem[], at: string): ReadNumber {
  return (field, text) => {
    const value = parseNumber(text)
    if (!Number.isNaN(value)) return value
    problems.push({ pointer: `${at}/${field}`, detail: sayWord('notNumber', { text: text.trim() }) })
    return null
  }
}

function weighingOf(anode: string, typed: AnodeDraft, unit: MassUnit, read: ReadNumber): z.input<typeof AnodeAtLift> {
  return {
    anode,
    ...measured(typed, unit, read),
    ...(typed.cleaned !== null && typed.method === 'scale' && { cleaned: typed.cleaned }),
    ...(typed.conditions.length > 0 && { conditions: typed.conditions }),
    ...(typed.confirm.length > 0 && { confirm: typed.confirm }),
    ...(typed.replacedBy && { replacedBy: replacementOf(typed.replacedBy, typed.replacedBy.unit ?? unit, read) }),
  }
}

function measured(typed: AnodeDraft, unit: MassUnit, read: ReadNumber): Partial<z.input<typeof AnodeAtLift>> {
  if (typed.method === 'scale') {
    const mass = read('massG', typed.mass)
    // A missing anode cannot be weighed: by eye, all of it is gone.
    if (mass === null && typed.conditions.includes('missing')) return { method: 'visual', wastedPercent: 100 }
    return { method: 'scale', ...(mass !== null && { massG: { value: mass, unit } }) }
  }
  if (typed.method === 'visual') {
    const wastedPercent = read('wastedPercent', typed.wastedPercent)
    return { method: 'visual', ...(wastedPercent !== null && { wastedPercent }) }
  }
  const dimensions = (['lengthMm', 'widthMm', 'heightMm'] as const).flatMap((field) => {
    const value = read(field, typed[field])
    return value === null ? [] : [[field, value] as const]
  })
  return { method: 'dimensions', ...Object.fromEntries(dimensions) }
}

function replacementOf(typed: ReplacementDraft, unit: MassUnit, read: ReadNumber): z.input<typeof Replacement> {
  const gross = read('replacedBy/grossMassG', typed.grossMass)
  const core = read('replacedBy/coreMassG', typed.coreMass)
  return {
    ...(typed.alloy !== '' && { alloy: typed.alloy }),
    ...(typed.shape.trim() !== '' && { shape: typed.shape.trim() }),
    ...(gross !== null && { grossMassG: { value: gross, unit } }),
    ...(core !== null && { coreMassG: { value: core, unit } }),
    ...typed.size,
  }
}

function berthOf(backAt: string): string | null {
  return backAt === STAYS_ASHORE ? null : backAt.slice(BERTH_PREFIX.length)
}
