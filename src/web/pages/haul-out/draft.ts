import { z } from 'zod'
import { ALLOYS, CONDITIONS, MASS_UNITS, WEIGHING_METHODS } from '../../../contract/vocabulary.js'
import { CONFIRMABLE_DOUBTS } from '../../../contract/weighings.js'
import { newKey } from '../../api/request-key.js'
import { isFull } from '../../offline/phone-full.js'
import { keyOf } from './draft-key.js'

/** What was typed for the anode that takes another's place. Numbers are kept as typed until they are sent. */
const ReplacementDraft = z.object({
  alloy: z.enum(ALLOYS).or(z.literal('')),
  shape: z.string(),
  grossMass: z.string(),
  coreMass: z.string(),
  /** Of both masses, where it differs from the anode's. */
  unit: z.enum(MASS_UNITS).optional(),
  /** Of a part whose size is known already. */
  size: z
    .object({ lengthMm: z.number().nullable(), widthMm: z.number().nullable(), heightMm: z.number().nullable() })
    .optional(),
})
export type ReplacementDraft = z.infer<typeof ReplacementDraft>

const AnodeDraft = z.object({
  method: z.enum(WEIGHING_METHODS),
  mass: z.string(),
  /** Of the mass, where it differs from the form's: a scale of another unit may lie beside the lift. */
  unit: z.enum(MASS_UNITS).optional(),
  lengthMm: z.string(),
  widthMm: z.string(),
  heightMm: z.string(),
  wastedPercent: z.string(),
  cleaned: z.boolean().nullable(),
  conditions: z.array(z.enum(CONDITIONS)),
  confirm: z.array(z.enum(CONFIRMABLE_DOUBTS)),
  replacedBy: ReplacementDraft.nullable(),
})
export type AnodeDraft = z.infer<typeof AnodeDraft>

const HaulOutDraft = z.object({
  hauledOn: z.string(),
  relaunchedOn: z.string(),
  /** '' leaves the stays as they are; STAYS_ASHORE; else a berth's name after `berth:`. */
  backAt: z.string(),
  note: z.string(),
  unit: z.enum(MASS_UNITS),
  idempotencyKey: z.string(),
  anodes: z.record(z.string(), AnodeDraft),
  /** The entry of the outbox that this one takes the place of. */
  mends: z.number().optional(),
})
export type HaulOutDraft = z.infer<typeof HaulOutDraft>

export const STAYS_ASHORE = 'ashore'
export const BERTH_PREFIX = 'berth:'

export const UNTOUCHED: AnodeDraft = {
  method: 'scale',
  mass: '',
  lengthMm: '',
  widthMm: '',
  heightMm: '',
  wastedPercent: '',
  cleaned: null,
  conditions: [],
  confirm: [],
  replacedBy: null,
}

/** A form as it opens. */
export function newDraft(today: string): HaulOutDraft {
  return {
    hauledOn: today,
    relaunchedOn: '',
    backAt: '',
    note: '',
    unit: 'g',
    idempotencyKey: newKey(),
    anodes: {},
  }
}

/** Whether anything was entered for an anode. */
export function isTouched(anode: AnodeDraft): boolean {
  const typed = [anode.mass, anode.lengthMm, anode.widthMm, anode.heightMm, anode.wastedPercent]
  return typed.some((text) => text.trim() !== '') || anode.conditions.length > 0 || anode.replacedBy !== null
}

/** The draft kept in this browser; one that cannot be read (of an older version) counts as none. */
export function loadDraft(store: Storage, boat: string): HaulOutDraft | null {
  const kept = store.getItem(keyOf(boat))
  if (kept === null) return null
  try {
    return HaulOutDraft.parse(JSON.parse(kept))
  } catch {
    store.removeItem(keyOf(boat))
    return null
  }
}

/** @returns false where the browser has no room for it: what was kept before stays. */
export function keepDraft(store: Storage, boat: string, draft: HaulOutDraft): boolean {
  try {
    store.setItem(keyOf(boat), JSON.stringify(draft))
    return true
  } catch (error) {
    if (isFull(error)) return false
    throw error
  }
}

export function dropDraft(store: Storage, boat: string): void {
  store.removeItem(keyOf(boat))
}
