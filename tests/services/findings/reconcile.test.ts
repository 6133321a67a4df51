import { describe, expect, it } from 'vitest'
import type { Anomaly } from '../../../src/engine/diagnosis/anomaly.js'
import { calendarDay, dayNumber } from '../../../src/services/dates/day-numbers.js'
import { type Change, type Looked, reconcile } from '../../../src/services/findings/reconcile.js'
import { likenessBy } from '../../../src/services/findings/same-fault.js'
import type { SeenFault } from '../../../src/services/findings/seen-faults.js'
import { BEGAN, diagnosisOf, keptFinding as kept, TODAY } from './kept-finding.js'

function seen(given: Partial<Anomaly> = {}): SeenFault {
  const diagnosis = diagnosisOf(given)
  const { boat, berth, pontoon } = diagnosis.anomaly
  return {
    diagnosis,
    boatId: boat,
    anodeId: null,
    berthId: null,
    pontoonId: null,
    berth,
    pontoon,
    sinceOn: calendarDay(BEGAN),
  }
}

/** Anodes "w1", "w2" … sit on Wren, each at a place of its own; "w1b" took the place of "w1". */
const likeness = likenessBy((anode) => anode.slice(0, 2))

function changes(given: Pick<Looked, 'kept' | 'seen'> & Partial<Looked>): Change[] {
  return reconcile({
    traceOf: (finding) => finding.detail.diagnosis.anomaly,
    likeness,
    newestEvidence: () => dayNumber(TODAY),
    isCorrected: () => false,
    ...given,
  })
}

/** Each change as "kind finding step". */
function told(given: Parameters<typeof changes>[0]): string[] {
  return changes(given).map((change) =>
    change.kind === 'opened' ? 'opened' : `${change.kind} ${change.finding.id} ${change.step?.kind ?? '-'}`,
  )
}

describe('the same fault', () => {
  it('is the same finding, told anew without a step', () => {
    const finding = kept()
    expect(told({ kept: [finding], seen: [seen({ surprise: 4.4 })] })).toEqual([`seen ${finding.id} -`])
  })

  it('is the same when it shows in the whole boat, which it did in one anode first', () => {
    const finding = kept()
    const wider = seen({ scope: 'boat', anodes: ['w1', 'w2', 'w3'] })
    expect(told({ kept: [finding], seen: [wider] })).toEqual([`seen ${finding.id} -`])
  })

  it('is the same on the anode that took the place of the one it was seen in', () => {
    const finding = kept()
    const later = seen({ anodes: ['w1b'], onset: { p10: BEGAN + 20, p50: BEGAN + 60, p90: BEGAN + 90 } })
    expect(told({ kept: [finding], seen: [later] })).toEqual([`seen ${finding.id} -`])
  })

  it('is another one in the other direction, on another anode, or years later', () => {
    const finding = kept()
    const lost = `lost ${finding.id} no-longer-seen`
    const yearsLater = { p10: BEGAN + 900, p50: BEGAN + 920, p90: BEGAN + 940 }
    for (const other of [{ direction: 'slow' as const }, { anodes: ['w2'] }, { anodes: ['w1b'], onset: yearsLater }]) {
      expect(told({ kept: [finding], seen: [seen(other)] })).toEqual(['opened', lost])
    }
  })

  it('goes to the finding that it is likest to, whatever the order', () => {
    const [one, two] = [kept({ anodes: ['w1'] }), kept({ anodes: ['w2'] })]
    const faults = [seen({ anodes: ['w2'] }), seen({ anodes: ['w1'] })]
    for (const findings of [
      [one, two],
      [two, one],
    ]) {
      expect(told({ kept: findings, seen: faults }).sort()).toEqual([`seen ${one.id} -`, `seen ${two.id} -`].sort())
    }
  })
})

describe('a fault of a whole pontoon', () => {
  it('takes up the findings of its boats: one goes on, the others are closed as part of it', () => {
    const boats = ['Wren', 'Stint', 'Knot'].map((boat) =>
      kept({ scope: 'boat', boat, anodes: [`${boat} 1`, `${boat} 2`] }),
    )
    const anodes = boats.flatMap(({ detail }) => detail.diagnosis.anomaly.anodes)
    const pontoon = seen({ scope: 'pontoon', boat: null, berth: null, anodes })
    const after = changes({ kept: boats, seen: [pontoon] })
    expect(after.map(({ kind }) => kind).sort()).toEqual(['lost', 'lost', 'seen'])
    for (const change of after) {
      if (change.kind === 'lost') expect(change.step).toMatchObject({ kind: 'closed', to: 'closed' })
    }
    expect(after.flatMap((change) => (change.kind === 'lost' ? change.step.note : []))[0]).toContain('pontoon B')
  })
})

describe('what is seen no longer', () => {
  it('stays with a note, once, and without it when it is seen again', () => {
    const finding = kept()
    expect(told({ kept: [finding], seen: [] })).toEqual([`lost ${finding.id} no-longer-seen`])
    const gone = { ...finding, notSeenSince: TODAY }
    expect(told({ kept: [gone], seen: [] })).toEqual([])
    expect(told({ kept: [gone], seen: [seen()] })).toEqual([`seen ${finding.id} seen-again`])
  })

  it('is closed where its records were corrected, and open again where they show it after all', () => {
    const finding = kept()
    expect(told({ kept: [finding], seen: [], isCorrected: () => true })).toEqual([`lost ${finding.id} closed`])
    const closed = { ...finding, state: 'closed' as const }
    expect(told({ kept: [closed], seen: [] })).toEqual([])
    expect(told({ kept: [closed], seen: [seen()] })).toEqual([`seen ${finding.id} reopened`])
  })
})

describe('what was resolved', () => {
  const mended = dayNumber('2031-04-01')
  const resolved = () => kept({}, { state: 'resolved', resolvedOn: calendarDay(mended), confirmedCause: 'other' })

  it('is left alone while the wear is from before', () => {
    const finding = resolved()
    expect(told({ kept: [finding], seen: [seen()], newestEvidence: () => mended })).toEqual([])
    expect(told({ kept: [finding], seen: [seen()], newestEvidence: () => null })).toEqual([])
    expect(told({ kept: [finding], seen: [], isCorrected: () => true })).toEqual([])
  })

  it('is open again where weighings after that show it', () => {
    const finding = resolved()
    const again = seen({ onset: { p10: mended - 5, p50: mended + 20, p90: mended + 50 } })
    expect(told({ kept: [finding], seen: [again] })).toEqual([`seen ${finding.id} reopened`])
  })

  it('does not take what belongs to a finding that is open', () => {
    const [old, open] = [resolved(), kept()]
    expect(told({ kept: [old, open], seen: [seen()] })).toEqual([`seen ${open.id} -`])
  })
})
