import type { AnodeView } from '../../src/contract/anodes.js'

/** An anode in which only what a test is about is said. */
export function anodeOf(part: Partial<AnodeView> = {}): AnodeView {
  return {
    id: `id of ${part.name ?? 'shaft 1'}`,
    boat: 'Wren',
    name: 'shaft 1',
    position: 'shaft',
    positionSlot: 1,
    positionKind: 'shaft',
    alloy: 'zinc',
    shape: 'shaft collar',
    fittedOn: '2030-04-18',
    removedOn: null,
    grossMassG: 1250,
    coreMassG: 80,
    lengthMm: 70,
    widthMm: 90,
    heightMm: 90,
    bonded: true,
    lastWeighing: null,
    createdAt: '2030-04-18T09:30:00.000Z',
    version: 1,
    ...part,
  }
}
