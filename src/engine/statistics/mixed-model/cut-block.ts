import type { Block, BlockedDesign, LocalDesign } from './blocks.js'
import type { FlatTerm } from './flat-terms.js'

/** What a block needs to know of the model. */
type Shape = Pick<BlockedDesign, 'order' | 'localTerms' | 'globalSpans'>

/** Cuts blocks out of a design, one after the other; room for marks is shared by them. */
export class BlockCutter {
  readonly #fixed: readonly Float64Array[]
  readonly #terms: readonly FlatTerm[]
  readonly #shape: Shape
  /** Where each column of the small system, or each level of a local term, stands in the block at hand; −1 nowhere. */
  readonly #placeOfColumn: Int32Array
  readonly #placeOfLevel: readonly Int32Array[]

  constructor(fixed: readonly Float64Array[], terms: readonly FlatTerm[], shape: Shape) {
    this.#fixed = fixed
    this.#terms = terms
    this.#shape = shape
    this.#placeOfColumn = new Int32Array(shape.order).fill(-1)
    this.#placeOfLevel = shape.localTerms.map((term) => new Int32Array(terms[term]!.levelCount).fill(-1))
  }

  cut(rows: Int32Array, at: number, links: Int32Array, linkAt: number): Block {
    const columns = this.#columnsMet(rows)
    const local = this.#shape.localTerms.map((term, g) => localDesign(rows, this.#terms[term]!, this.#placeOfLevel[g]!))
    return { rows, at, columns, ...this.#design(rows, columns), local, links, linkAt }
  }

  #columnsMet(rows: Int32Array): Int32Array {
    const met: number[] = []
    for (const { component, from: first } of this.#shape.globalSpans) {
      const { from, levels } = this.#terms[component]!
      for (let i = 0; i < rows.length; i++) {
        for (let at = from[rows[i]!]!; at < from[rows[i]! + 1]!; at++) {
          const column = first + levels[at]!
          if (this.#placeOfColumn[column]! >= 0) continue
          this.#placeOfColumn[column] = 0
          met.push(column)
        }
      }
    }
    met.sort((a, b) => a - b)
    const fixedCount = this.#fixed.length
    const columns = new Int32Array(fixedCount + met.length + 1)
    for (let j = 0; j < fixedCount; j++) columns[j] = j
    columns.set(met, fixedCount)
    columns[columns.length - 1] = this.#shape.order
    return columns
  }

  #design(rows: Int32Array, columns: Int32Array): Pick<Block, 'designFrom' | 'designPlace' | 'designWeight'> {
    const fixedCount = this.#fixed.length
    for (let k = fixedCount; k + 1 < columns.length; k++) this.#placeOfColumn[columns[k]!] = k
    const place: number[] = []
    const weight: number[] = []
    const designFrom = new Int32Array(rows.length + 1)
    for (let i = 0; i < rows.length; i++) {
      const row = rows[i]!
      for (let j = 0; j < fixedCount; j++) {
        const x = this.#fixed[j]![row]!
        if (x === 0) continue
        place.push(j)
        weight.push(x)
      }
      for (const { component, from: first } of this.#shape.globalSpans) {
        const { from, levels, weights } = this.#terms[component]!
        for (let at = from[row]!; at < from[row + 1]!; at++) {
          place.push(this.#placeOfColumn[first + levels[at]!]!)
          weight.push(weights[at]!)
        }
      }
      designFrom[i + 1] = place.length
    }
    for (let k = fixedCount; k + 1 < columns.length; k++) this.#placeOfColumn[columns[k]!] = -1
    return { designFrom, designPlace: Int32Array.from(place), designWeight: Float64Array.from(weight) }
  }
}

/** @param placeOfLevel −1 throughout, before and after */
function localDesign(rows: Int32Array, term: FlatTerm, placeOfLevel: Int32Array): LocalDesign {
  const met: number[] = []
  let entries = 0
  for (let i = 0; i < rows.length; i++) {
    for (let at = term.from[rows[i]!]!; at < term.from[rows[i]! + 1]!; at++, entries++) {
      const level = term.levels[at]!
      if (placeOfLevel[level]! >= 0) continue
      placeOfLevel[level] = 0
      met.push(level)
    }
  }
  met.sort((a, b) => a - b)
  for (let c = 0; c < met.length; c++) placeOfLevel[met[c]!] = c
  const from = new Int32Array(met.length + 1)
  const own = { rows: new Int32Array(entries), weights: new Float64Array(entries) }
  for (let i = 0; i < rows.length; i++) {
    for (let at = term.from[rows[i]!]!; at < term.from[rows[i]! + 1]!; at++)
      from[placeOfLevel[term.levels[at]!]! + 1]!++
  }
  for (let c = 0; c < met.length; c++) from[c + 1]! += from[c]!
  const next = from.slice()
  for (let i = 0; i < rows.length; i++) {
    for (let at = term.from[rows[i]!]!; at < term.from[rows[i]! + 1]!; at++) {
      const to = next[placeOfLevel[term.levels[at]!]!]!++
      own.rows[to] = i
      own.weights[to] = term.weights[at]!
    }
  }
  for (const level of met) placeOfLevel[level] = -1
  return { levels: Int32Array.from(met), from, ...own }
}
