import type { AnodeRecord } from '../../db/repositories/anodes.js'
import type { WeighingRecord } from '../../db/repositories/weighings.js'
import { inFutureDetail, isInFuture } from '../dates/not-in-future.js'
import type { FieldError } from '../errors.js'

type Life = Pick<AnodeRecord, 'fittedOn' | 'removedOn'>
type Masses = Pick<AnodeRecord, 'grossMassG' | 'coreMassG'>

/** What cannot be of an anode by itself. `at` is the pointer of the object that holds the fields. */
export function anodeFaults(anode: Life & Masses, today: string, at = '#'): FieldError[] {
  return [...lifeFaults(anode, today, at), ...massFaults(anode, at)]
}

function lifeFaults({ fittedOn, removedOn }: Life, today: string, at: string): FieldError[] {
  const faults: FieldError[] = []
  if (fittedOn !== null && isInFuture(fittedOn, today)) {
    faults.push({ pointer: `${at}/fittedOn`, detail: inFutureDetail(fittedOn) })
  }
  if (removedOn !== null && isInFuture(removedOn, today)) {
    faults.push({ pointer: `${at}/removedOn`, detail: inFutureDetail(removedOn) })
  }
  if (fittedOn !== null && removedOn !== null && removedOn < fittedOn) {
    faults.push({
      pointer: `${at}/removedOn`,
      detail: `removed on ${removedOn}, but fitted on ${fittedOn}: it cannot leave before it came`,
    })
  }
  return faults
}

export function massFaults({ grossMassG, coreMassG }: Masses, at = '#'): FieldError[] {
  if (grossMassG === null || coreMassG === null || coreMassG < grossMassG) return []
  const detail = `a core of ${coreMassG} g leaves no metal in a gross mass of ${grossMassG} g: weigh the core alone`
  return [{ pointer: `${at}/coreMassG`, detail }]
}

/** What cannot be of an anode beside the weighings that were logged of it. */
export function faultsBesideWeighings(anode: Life & Masses, weighings: readonly WeighingRecord[]): FieldError[] {
  return weighings.flatMap((weighing) => {
    const { weighedOn, massG, resolutionG } = weighing
    const logged = `it was weighed on ${weighedOn}: correct that weighing first`
    if (anode.fittedOn !== null && weighedOn < anode.fittedOn) {
      return [{ pointer: '#/fittedOn', detail: `fitted on ${anode.fittedOn}, but ${logged}` }]
    }
    if (anode.removedOn !== null && weighedOn > anode.removedOn) {
      return [{ pointer: '#/removedOn', detail: `removed on ${anode.removedOn}, but ${logged}` }]
    }
    if (massG !== null && anode.coreMassG !== null && massG + (resolutionG ?? 0) < anode.coreMassG) {
      const detail = `a core of ${anode.coreMassG} g is above the ${massG} g it weighed on ${weighedOn}: correct that first`
      return [{ pointer: '#/coreMassG', detail }]
    }
    return []
  })
}
