/** Stands in a planned request for something that the service has by then; chosen when the request is sent. */
export class Known {
  readonly kind: string
  /** Which of them, from 0 up to 1. */
  readonly pick: number
  /** What is sent while there is none. */
  readonly otherwise: unknown

  constructor(kind: string, pick: number, otherwise: unknown) {
    this.kind = kind
    this.pick = pick
    this.otherwise = otherwise
  }
}

/** Of each kind the last ones are kept: what was deleted since makes requests that find nothing, and they are worth sending too. */
const KEPT = 30
const LONGEST = 300

/** Ids, names and cursors that answers have shown, by the member or the list that showed them. */
export class KnownThings {
  readonly #seen = new Map<string, Set<unknown>>()

  /** @param list the last word of the path that gave this: the ids in it are ids of such things */
  learn(list: string, shown: unknown): void {
    if (Array.isArray(shown)) for (const item of shown) this.learn(list, item)
    else if (typeof shown === 'object' && shown !== null) {
      for (const [member, value] of Object.entries(shown)) this.#learnMember(list, member, value)
    }
  }

  add(kind: string, value: unknown): void {
    const values = this.#seen.get(kind) ?? new Set()
    this.#seen.set(kind, values)
    values.delete(value)
    values.add(value)
    const oldest = values.values().next().value
    if (values.size > KEPT) values.delete(oldest)
  }

  /** A value with every `Known` in it replaced. */
  fill(value: unknown): unknown {
    if (value instanceof Known) {
      const values = [...(this.#seen.get(value.kind) ?? [])]
      return values.length === 0 ? this.fill(value.otherwise) : values[Math.floor(value.pick * values.length)]
    }
    if (Array.isArray(value)) return value.map((item) => this.fill(item))
    if (typeof value !== 'object' || value === null) return value
    return Object.fromEntries(Object.entries(value).map(([member, one]) => [member, this.fill(one)]))
  }

  #learnMember(list: string, member: string, value: unknown): void {
    if (typeof value === 'object') this.learn(member === 'items' ? list : member, value)
    if (typeof value !== 'string' || value === '' || value.length > LONGEST) return
    if (member === 'id') this.add(`id of ${list}`, value)
    if (member === 'id' || member === 'name') this.add(list, value)
    else this.add(member === 'nextCursor' ? 'cursor' : member, value)
  }
}
