import type { AnodeWhenFitted } from '../../weighings/weighing-errors.js'
import type { ParsedRow } from '../parsed-files.js'

export interface FleetAnode extends AnodeWhenFitted {
  readonly id: string
  readonly boatId: string
  readonly name: string
  readonly positionId: string
  /** Whether it is in the database already. */
  readonly isStored: boolean
  /** Its row in the import, if it has one. */
  readonly row?: ParsedRow<'anodes.csv'>
}

export interface FleetPosition {
  readonly id: string
  readonly boatId: string
  readonly label: string
  readonly slot: number
}

/** What an import may refer to: what is stored, and what its own files add to it. Ids by name. */
export class Fleet {
  readonly pontoons = new Map<string, string>()
  readonly berths = new Map<string, string>()
  readonly owners = new Map<string, string>()
  readonly boats = new Map<string, string>()
  /** By the boat's id, then by name. */
  readonly fittings = new ByBoat<string>()
  readonly anodes = new ByBoat<FleetAnode>()
  readonly positions = new Map<string, FleetPosition>()
  /** By the boat's id, then by day. */
  readonly haulOuts = new ByBoat<string>()
}

/** Things of boats, found by the boat's id and their own name or day. */
export class ByBoat<T> {
  readonly #things = new Map<string, Map<string, T>>()

  get(boatId: string, name: string): T | undefined {
    return this.#things.get(boatId)?.get(name)
  }

  set(boatId: string, name: string, thing: T): void {
    const ofBoat = this.#things.get(boatId)
    if (ofBoat) ofBoat.set(name, thing)
    else this.#things.set(boatId, new Map([[name, thing]]))
  }

  of(boatId: string): T[] {
    return [...(this.#things.get(boatId)?.values() ?? [])]
  }
}

/** An owner is one person: a name with an address, either of which may be missing. */
export function ownerKey(name: string | null, email: string | null): string {
  return JSON.stringify([name, email])
}
