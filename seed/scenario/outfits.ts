import type { Shape } from './anode-bodies.js'

export interface Fitting {
  fitting: string
  /** A key of the galvanic series. */
  metal: string
  areaCm2: number
  coated: boolean
  bonded: boolean
}

/** A place for an anode on a boat, with the piece that its builder put there. */
export interface Mount {
  /** Unlike the position, one of its kind: a boat may carry two hull anodes. */
  mount: string
  position: string
  shape: Shape
  lengthMm: number
  widthMm: number
  heightMm: number
  coreMassG: number
  bonded: boolean
}

export interface Outfit {
  fittings: readonly Fitting[]
  mounts: readonly Mount[]
}

/** Fittings and anodes by kind of boat. A boat may leave out a mount or two, and its areas differ by a few per cent. */
export const OUTFITS = {
  'saildrive-yacht': {
    fittings: [
      fitting('saildrive leg', 'aluminium-alloy', 2600, 'coated', 'apart'),
      fitting('folding propeller', 'nickel-aluminium-bronze', 420, 'bare', 'apart'),
      fitting('keel', 'cast-iron', 31000, 'coated', 'apart'),
      fitting('seacocks', 'tin-bronze-g-m', 260, 'bare', 'bonded'),
      fitting('rudder stock', 'stainless-316-passive', 780, 'bare', 'apart'),
    ],
    mounts: [
      mount('saildrive leg', 'saildrive leg', 'shaft collar', [112, 112, 34], 40, 'apart'),
      mount('propeller hub', 'propeller hub', 'hub cone', [62, 60, 60], 30, 'apart'),
    ],
  },
  'shaft-yacht': {
    fittings: [
      fitting('shaft', 'stainless-316-passive', 1350, 'bare', 'bonded'),
      fitting('propeller', 'manganese-bronze', 880, 'bare', 'bonded'),
      fitting('p-bracket', 'tin-bronze-g-m', 540, 'bare', 'bonded'),
      fitting('seacocks', 'naval-brass', 310, 'bare', 'bonded'),
      fitting('keel', 'lead', 26000, 'coated', 'apart'),
    ],
    mounts: [
      mount('shaft', 'shaft', 'shaft collar', [58, 76, 76], 25, 'bonded'),
      mount('propeller hub', 'propeller hub', 'hub cone', [58, 56, 56], 30, 'bonded'),
      mount('hull', 'hull', 'teardrop', [210, 84, 34], 210, 'bonded'),
    ],
  },
  'twin-cruiser': {
    fittings: [
      fitting('shaft port', 'stainless-316-passive', 1900, 'bare', 'bonded'),
      fitting('shaft starboard', 'stainless-316-passive', 1900, 'bare', 'bonded'),
      fitting('propeller port', 'nickel-aluminium-bronze', 1250, 'bare', 'bonded'),
      fitting('propeller starboard', 'nickel-aluminium-bronze', 1250, 'bare', 'bonded'),
      fitting('rudders', 'manganese-bronze', 2900, 'coated', 'bonded'),
      fitting('trim tabs', 'stainless-304-passive', 3600, 'coated', 'bonded'),
      fitting('thruster tunnel', 'aluminium-bronze', 380, 'bare', 'apart'),
      fitting('sea strainers', 'yellow-brass', 420, 'bare', 'bonded'),
    ],
    mounts: [
      mount('shaft port', 'shaft', 'shaft collar', [66, 88, 88], 30, 'bonded'),
      mount('shaft starboard', 'shaft', 'shaft collar', [66, 88, 88], 30, 'bonded'),
      mount('hull', 'hull', 'plate', [230, 120, 26], 260, 'bonded'),
      mount('rudder', 'rudder', 'disc', [100, 100, 22], 35, 'bonded'),
      mount('trim tab', 'trim tab', 'disc', [92, 92, 20], 35, 'bonded'),
      mount('bow thruster', 'bow thruster', 'hub cone', [46, 48, 48], 20, 'apart'),
      mount('heat exchanger', 'heat exchanger', 'pencil', [64, 16, 16], 38, 'apart'),
    ],
  },
  'single-cruiser': {
    fittings: [
      fitting('shaft', 'stainless-316-passive', 1500, 'bare', 'bonded'),
      fitting('propeller', 'manganese-bronze', 1020, 'bare', 'bonded'),
      fitting('rudder', 'tin-bronze-g-m', 2100, 'coated', 'bonded'),
      fitting('keel cooler', 'cupronickel-90-10', 3400, 'bare', 'bonded'),
      fitting('seacocks', 'naval-brass', 280, 'bare', 'bonded'),
    ],
    mounts: [
      mount('shaft', 'shaft', 'shaft collar', [62, 80, 80], 28, 'bonded'),
      mount('hull', 'hull', 'teardrop', [225, 90, 36], 220, 'bonded'),
      mount('rudder', 'rudder', 'disc', [96, 96, 20], 35, 'bonded'),
      mount('heat exchanger', 'heat exchanger', 'pencil', [58, 14, 14], 32, 'apart'),
    ],
  },
  'work-boat': {
    fittings: [
      fitting('hull plating', 'mild-steel', 310000, 'coated', 'bonded'),
      fitting('shaft', 'stainless-316-active', 2600, 'bare', 'bonded'),
      fitting('propeller', 'nickel-aluminium-bronze', 2400, 'bare', 'bonded'),
      fitting('sea chest', 'low-alloy-steel', 5200, 'coated', 'bonded'),
    ],
    mounts: [
      mount('hull port', 'hull', 'bar', [300, 72, 38], 480, 'bonded'),
      mount('hull starboard', 'hull', 'bar', [300, 72, 38], 480, 'bonded'),
      mount('shaft', 'shaft', 'shaft collar', [74, 104, 104], 40, 'bonded'),
      mount('rudder', 'rudder', 'block', [150, 72, 34], 240, 'bonded'),
    ],
  },
  tug: {
    fittings: [
      fitting('hull plating', 'mild-steel', 940000, 'coated', 'bonded'),
      fitting('tail shaft', 'low-alloy-steel', 7800, 'bare', 'bonded'),
      fitting('propeller', 'nickel-aluminium-bronze', 11500, 'bare', 'bonded'),
      fitting('nozzle', 'mild-steel', 46000, 'coated', 'bonded'),
      fitting('sea chest valves', 'tin-bronze-g-m', 1900, 'bare', 'bonded'),
    ],
    mounts: [
      mount('hull port', 'hull', 'bar', [420, 110, 56], 1150, 'bonded'),
      mount('hull starboard', 'hull', 'bar', [420, 110, 56], 1150, 'bonded'),
      mount('rudder', 'rudder', 'block', [220, 104, 44], 520, 'bonded'),
      mount('skeg', 'skeg', 'block', [220, 104, 44], 520, 'bonded'),
    ],
  },
  catamaran: {
    fittings: [
      fitting('hulls', 'aluminium-alloy', 520000, 'coated', 'bonded'),
      fitting('saildrive port', 'aluminium-alloy', 2600, 'coated', 'apart'),
      fitting('saildrive starboard', 'aluminium-alloy', 2600, 'coated', 'apart'),
      fitting('propellers', 'nickel-aluminium-bronze', 840, 'bare', 'apart'),
      fitting('rudder stocks', 'stainless-316-passive', 1400, 'bare', 'bonded'),
    ],
    mounts: [
      mount('hull port', 'hull', 'plate', [240, 110, 30], 180, 'bonded'),
      mount('hull starboard', 'hull', 'plate', [240, 110, 30], 180, 'bonded'),
      mount('saildrive leg', 'saildrive leg', 'shaft collar', [112, 112, 34], 40, 'apart'),
    ],
  },
  classic: {
    fittings: [
      fitting('shaft', 'manganese-bronze', 1150, 'bare', 'bonded'),
      fitting('propeller', 'manganese-bronze', 940, 'bare', 'bonded'),
      fitting('keel bolts', 'silicon-bronze', 650, 'coated', 'apart'),
      fitting('rudder irons', 'tin-bronze-g-m', 720, 'bare', 'bonded'),
      fitting('copper sheathing', 'copper', 5400, 'bare', 'apart'),
    ],
    mounts: [
      mount('shaft', 'shaft', 'shaft collar', [50, 68, 68], 22, 'bonded'),
      mount('hull', 'hull', 'disc', [110, 110, 24], 90, 'bonded'),
      mount('skeg', 'skeg', 'bar', [180, 46, 22], 95, 'bonded'),
    ],
  },
} satisfies Record<string, Outfit>

export type OutfitName = keyof typeof OUTFITS

type Finish = 'coated' | 'bare'
type Wire = 'bonded' | 'apart'

function fitting(name: string, metal: string, areaCm2: number, finish: Finish, wire: Wire): Fitting {
  return { fitting: name, metal, areaCm2, coated: finish === 'coated', bonded: wire === 'bonded' }
}

function mount(
  name: string,
  position: string,
  shape: Shape,
  size: readonly [lengthMm: number, widthMm: number, heightMm: number],
  coreMassG: number,
  wire: Wire,
): Mount {
  const [lengthMm, widthMm, heightMm] = size
  return { mount: name, position, shape, lengthMm, widthMm, heightMm, coreMassG, bonded: wire === 'bonded' }
}
