import type { AnodeAtLift, NewHaulOut, Replacement } from '../../contract/haul-outs.js'
import { looksLikeId } from '../../contract/names.js'
import type { AnodeRecord, AnodeValues } from '../../db/repositories/anodes.js'
import type { WeighingRecord } from '../../db/repositories/weighings.js'
import { massFaults } from '../anodes/anode-faults.js'
import type { FieldError } from '../errors.js'
import { doubtsOf, type MeasuredValues, measuredValues, sameMeasured } from '../weighings/measured-values.js'
import type { Doubt } from '../weighings/plausibility.js'
import { nextName } from './next-name.js'

/** What is known of a boat before its lift is logged. */
export interface KnownOfBoat {
  readonly boat: string
  readonly anodes: readonly AnodeRecord[]
  /** Of these anodes, each one's in the order of their days. */
  readonly weighings: readonly WeighingRecord[]
  readonly today: string
}

/** What is to be written for one anode of a lift; nothing where it had been logged just so. */
export interface AnodePlan {
  readonly anode: AnodeRecord
  readonly weigh: MeasuredValues | null
  /** A weighing that was logged by itself and says the same: it becomes part of the haul-out. */
  readonly adopt: string | null
  readonly fit: AnodeValues | null
}

/** Something that was logged of an anode that day, and differs. */
export interface Clash {
  readonly anode: string
  readonly table: 'weighings' | 'anodes'
  readonly rowId: string
  readonly logged: string
}

export interface LiftPlan {
  readonly anodes: AnodePlan[]
  readonly errors: FieldError[]
  readonly clashes: Clash[]
}

/**
 * What a lift leads to, decided whole before anything is written: each anode weighed, replaced, or already logged just
 * so. Errors point into the request, `#/weighings/1/massG`.
 */
export function planLift(lift: NewHaulOut, known: KnownOfBoat): LiftPlan {
  const plan: LiftPlan = { anodes: [], errors: [], clashes: [] }
  const names = new Set(known.anodes.map((anode) => anode.name))
  const seen = new Set<string>()
  for (const [index, item] of lift.weighings.entries()) {
    const at = `#/weighings/${index}`
    const anode = known.anodes.find((one) =>
      looksLikeId(item.anode) ? one.id === item.anode : one.name === item.anode,
    )
    const fault = anode ? faultOfItem(item, anode, seen) : `${known.boat} has no anode ${item.anode}`
    if (!anode || fault) {
      plan.errors.push({ pointer: `${at}/anode`, detail: fault ?? '' })
      continue
    }
    seen.add(anode.id)
    const ofAnode: OneAnode = { item, anode, at, hauledOn: lift.hauledOn, known, plan, names }
    plan.anodes.push({ anode, ...weighed(ofAnode), fit: item.replacedBy ? fitted(ofAnode, item.replacedBy) : null })
  }
  return plan
}

interface OneAnode {
  readonly item: AnodeAtLift
  readonly anode: AnodeRecord
  readonly at: string
  readonly hauledOn: string
  readonly known: KnownOfBoat
  /** Takes the errors and clashes. */
  readonly plan: LiftPlan
  /** Names in use on the boat; takes the new ones. */
  readonly names: Set<string>
}

function faultOfItem(item: AnodeAtLift, anode: AnodeRecord, seen: ReadonlySet<string>): string | undefined {
  if (seen.has(anode.id)) return `${anode.name} is listed twice: give all of it at once`
  if (!isWeighed(item) && !item.replacedBy) return `say what was done with ${anode.name}: its mass, or replacedBy`
  return undefined
}

/** Whether anything was measured or seen; an anode may also be replaced unweighed. */
function isWeighed({ anode: _, confirm: __, replacedBy: ___, method, conditions = [], ...measured }: AnodeAtLift) {
  const given = Object.values(measured).some((value) => value !== undefined && value !== null)
  return given || method !== 'scale' || conditions.length > 0
}

function weighed({ item, anode, at, hauledOn, known, plan }: OneAnode): Pick<AnodePlan, 'weigh' | 'adopt'> {
  if (!isWeighed(item)) return { weigh: null, adopt: null }
  const values = measuredValues(item, hauledOn)
  const ofAnode = known.weighings.filter((weighing) => weighing.anodeId === anode.id)
  const logged = ofAnode.find((weighing) => weighing.weighedOn === hauledOn)
  if (logged && sameMeasured(values, measuredValues(logged, hauledOn))) {
    return { weigh: null, adopt: logged.haulOutId === null ? logged.id : null }
  }
  if (logged) {
    const what = `${anode.name} was weighed on ${hauledOn} already: ${inWords(logged)}`
    plan.clashes.push({ anode: anode.name, table: 'weighings', rowId: logged.id, logged: what })
    return { weigh: null, adopt: null }
  }
  const doubts = doubtsOf(anode, ofAnode, values, { today: known.today, confirm: item.confirm })
  plan.errors.push(...doubts.map((doubt) => asErrorOf(doubt, at)))
  return { weigh: values, adopt: null }
}

/** The day is the haul-out's own, so that a doubt about it is one about which anode was meant. */
function asErrorOf({ field, code, detail }: Doubt, at: string): FieldError {
  return { pointer: `${at}/${field === 'weighedOn' ? 'anode' : field}`, detail, code }
}

function inWords({ massG, wastedPercent, method }: WeighingRecord): string {
  if (massG !== null) return `${massG} g`
  return wastedPercent === null ? `by ${method}` : `${wastedPercent} % wasted`
}

function fitted(one: OneAnode, replacedBy: Replacement): AnodeValues | null {
  const { anode, hauledOn, known, plan, names } = one
  const atPosition = known.anodes.filter((other) => other.positionId === anode.positionId && other.id !== anode.id)
  const successor = atPosition.find((other) => other.fittedOn === hauledOn)
  if (anode.removedOn === hauledOn && successor) {
    if (!says(successor, replacedBy)) {
      const logged = `${anode.name} was replaced by ${successor.name} on ${hauledOn} already`
      plan.clashes.push({ anode: anode.name, table: 'anodes', rowId: successor.id, logged })
    }
    return null
  }
  plan.errors.push(...replacementFaults(one, replacedBy))
  const name = replacedBy.name ?? nextName(anode.name, names)
  names.add(name)
  const later = atPosition
    .flatMap(({ fittedOn }) => (fittedOn !== null && fittedOn > hauledOn ? [fittedOn] : []))
    .sort()
  const { boatId, positionId } = anode
  return { ...replacedBy, name, boatId, positionId, fittedOn: hauledOn, removedOn: later[0] ?? null }
}

/** Whether a stored anode is what a replacement says, as far as it says anything. */
function says(stored: AnodeRecord, replacedBy: Replacement): boolean {
  const fields = Object.keys(replacedBy) as (keyof Replacement)[]
  return fields.every((field) => replacedBy[field] === undefined || replacedBy[field] === stored[field])
}

function replacementFaults({ anode, at, hauledOn, known, names }: OneAnode, replacedBy: Replacement): FieldError[] {
  const { grossMassG = null, coreMassG = null } = replacedBy
  const faults = massFaults({ grossMassG, coreMassG }, `${at}/replacedBy`)
  const refuse = (field: string, detail: string) => faults.push({ pointer: `${at}/${field}`, detail })
  if (replacedBy.name !== undefined && names.has(replacedBy.name)) {
    refuse('replacedBy/name', `${known.boat} has, or had, an anode ${replacedBy.name}: give it another name, or none`)
  }
  if (anode.removedOn !== null && anode.removedOn !== hauledOn) {
    refuse('replacedBy', `${anode.name} was removed on ${anode.removedOn}: it cannot be replaced on ${hauledOn}`)
  }
  if (anode.fittedOn !== null && anode.fittedOn > hauledOn) {
    refuse('replacedBy', `${anode.name} was fitted on ${anode.fittedOn}, after this haul-out: was another meant?`)
  }
  const after = known.weighings.find((weighing) => weighing.anodeId === anode.id && weighing.weighedOn > hauledOn)
  if (after) {
    refuse(
      'replacedBy',
      `${anode.name} was weighed on ${after.weighedOn}, after this haul-out: it was still there then`,
    )
  }
  return faults
}
