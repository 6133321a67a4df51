import { randomUUID } from 'node:crypto'
import type { NewDrawnBerth, NewDrawnPontoon, NewPontoonDrawing } from '../../contract/pontoon-drawing.js'
import { BERTH_SIDES } from '../../contract/vocabulary.js'
import type {
  BerthToDraw,
  DrawnBerthRow,
  DrawnPontoonRow,
  NewBerthOnPontoon,
  NewPontoon,
  PontoonToDraw,
} from '../../db/repositories/pontoon-drawing.js'
import { type FieldError, Invalid } from '../errors.js'

/** What is on record before a drawing. */
export interface HarbourOnRecord {
  readonly pontoons: readonly PontoonToDraw[]
  readonly berths: readonly BerthToDraw[]
}

/** What a drawing writes. */
export interface DrawingPlan {
  readonly newPontoons: readonly NewPontoon[]
  readonly renamedPontoons: readonly NewPontoon[]
  /** May have no berth afterwards, and go then: they are not drawn. */
  readonly undrawnPontoonIds: readonly string[]
  readonly newBerths: readonly NewBerthOnPontoon[]
  readonly renamedBerths: readonly NewPontoon[]
  /** Berths by the pontoon that they come to, null for none. */
  readonly moved: ReadonlyMap<string | null, readonly string[]>
  readonly removed: readonly BerthToDraw[]
  readonly lines: readonly DrawnPontoonRow[]
  readonly places: readonly DrawnBerthRow[]
}

/** Whether it changes more than where things are drawn: names, berths, and what lies on which pontoon are in the forecasts. */
export function changesTheFleet(plan: DrawingPlan): boolean {
  const { newBerths, renamedPontoons, renamedBerths, removed, moved } = plan
  return newBerths.length + renamedPontoons.length + renamedBerths.length + removed.length + moved.size > 0
}

/**
 * Holds a drawing against what is on record.
 *
 * @throws Invalid where it names what is not there, or the same thing or name twice
 */
export function planDrawing(on: HarbourOnRecord, drawing: NewPontoonDrawing): DrawingPlan {
  const planner = new Planner(on)
  drawing.pontoons.forEach((pontoon, index) => {
    planner.draw(pontoon, `#/pontoons/${index}`)
  })
  drawing.off.forEach((id, index) => {
    planner.takeOff(id, `#/off/${index}`)
  })
  drawing.removed.forEach((id, index) => {
    planner.remove(id, `#/removed/${index}`)
  })
  return planner.plan()
}

class Planner {
  readonly #pontoons: ReadonlyMap<string, PontoonToDraw>
  readonly #berths: ReadonlyMap<string, BerthToDraw>
  readonly #seen = new Set<string>()
  readonly #names = { pontoon: new Set<string>(), berth: new Set<string>() }
  readonly #errors: FieldError[] = []
  readonly #newPontoons: NewPontoon[] = []
  readonly #renamedPontoons: NewPontoon[] = []
  readonly #newBerths: NewBerthOnPontoon[] = []
  readonly #renamedBerths: NewPontoon[] = []
  readonly #moved = new Map<string | null, string[]>()
  readonly #removed: BerthToDraw[] = []
  readonly #lines: DrawnPontoonRow[] = []
  readonly #places: DrawnBerthRow[] = []

  constructor({ pontoons, berths }: HarbourOnRecord) {
    this.#pontoons = new Map(pontoons.map((pontoon) => [pontoon.id, pontoon]))
    this.#berths = new Map(berths.map((berth) => [berth.id, berth]))
  }

  draw({ id, name, left, right, ...line }: NewDrawnPontoon, pointer: string): void {
    const pontoonId = this.#pontoonOf(id, name, pointer)
    if (pontoonId === undefined) return
    this.#lines.push({ pontoonId, ...line })
    const sides = { left, right }
    for (const side of BERTH_SIDES) {
      sides[side].forEach((berth, index) => {
        const berthId = this.#berthOf(berth, pontoonId, `${pointer}/${side}/${index}`)
        if (berthId !== undefined) this.#places.push({ berthId, pontoonId, side, place: index + 1 })
      })
    }
  }

  takeOff(id: string, pointer: string): void {
    const berth = this.#onRecord(this.#berths, 'berth', id, pointer)
    if (berth !== undefined) this.#move(berth, null)
  }

  remove(id: string, pointer: string): void {
    const berth = this.#onRecord(this.#berths, 'berth', id, pointer)
    if (berth !== undefined) this.#removed.push(berth)
  }

  /** @throws Invalid where anything did not fit */
  plan(): DrawingPlan {
    if (this.#errors.length > 0) throw new Invalid(this.#errors)
    const drawn = new Set(this.#lines.map(({ pontoonId }) => pontoonId))
    return {
      newPontoons: this.#newPontoons,
      renamedPontoons: this.#renamedPontoons,
      undrawnPontoonIds: [...this.#pontoons.keys()].filter((id) => !drawn.has(id)),
      newBerths: this.#newBerths,
      renamedBerths: this.#renamedBerths,
      moved: this.#moved,
      removed: this.#removed,
      lines: this.#lines,
      places: this.#places,
    }
  }

  #pontoonOf(id: string | undefined, name: string | undefined, pointer: string): string | undefined {
    if (name !== undefined) this.#once('pontoon', name, pointer)
    if (id === undefined) {
      const made = { id: randomUUID(), name: name ?? '' }
      this.#newPontoons.push(made)
      return made.id
    }
    const known = this.#onRecord(this.#pontoons, 'pontoon', id, `${pointer}/id`)
    if (known && name !== undefined && name !== known.name) this.#renamedPontoons.push({ id, name })
    return known?.id
  }

  #berthOf({ id, name }: NewDrawnBerth, pontoonId: string, pointer: string): string | undefined {
    if (name !== undefined) this.#once('berth', name, pointer)
    if (id === undefined) {
      const made = { id: randomUUID(), name: name ?? '', pontoonId }
      this.#newBerths.push(made)
      return made.id
    }
    const known = this.#onRecord(this.#berths, 'berth', id, `${pointer}/id`)
    if (known === undefined) return undefined
    if (name !== undefined && name !== known.name) this.#renamedBerths.push({ id, name })
    this.#move(known, pontoonId)
    return known.id
  }

  #move({ id, pontoonId }: BerthToDraw, to: string | null): void {
    if (pontoonId === to) return
    this.#moved.set(to, [...(this.#moved.get(to) ?? []), id])
  }

  #once(what: 'pontoon' | 'berth', name: string, pointer: string): void {
    if (this.#names[what].has(name)) {
      this.#errors.push({ pointer: `${pointer}/name`, detail: `another ${what} of the drawing is called ${name} too` })
    }
    this.#names[what].add(name)
  }

  /** Each thing on record has one place in a drawing. */
  #onRecord<Row>(rows: ReadonlyMap<string, Row>, what: string, id: string, pointer: string): Row | undefined {
    const row = rows.get(id)
    if (row === undefined) this.#errors.push({ pointer, detail: `there is no ${what} of this id` })
    else if (this.#seen.has(id)) this.#errors.push({ pointer, detail: `this ${what} stands in the drawing already` })
    this.#seen.add(id)
    return row
  }
}
