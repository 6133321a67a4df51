import { Uniform } from '../engine/simulated-fleet.js'

/** First numbers of a generator started from small numbers are alike; these are thrown away. */
const WARM_UP = 20
const SPREAD_OF_STARTS = 7_919_317

/** The draws that a simulated fleet is made of, all from one start, so that a fleet is the same each time. */
export class Draws {
  readonly #uniform: Uniform

  constructor(start: number) {
    this.#uniform = new Uniform((start * SPREAD_OF_STARTS) % 2147483646)
    for (let count = 0; count < WARM_UP; count++) this.#uniform.next()
  }

  /** Uniform in [from, to). */
  between(from: number, to: number): number {
    return from + (to - from) * this.#uniform.next()
  }

  /** A whole number in [from, to). */
  whole(from: number, to: number): number {
    return Math.floor(this.between(from, to))
  }

  chance(probability: number): boolean {
    return this.#uniform.next() < probability
  }

  pick<T>(list: readonly T[]): T {
    return list[Math.min(list.length - 1, Math.floor(this.#uniform.next() * list.length))]!
  }

  normal(sd = 1): number {
    return sd * this.#uniform.normal()
  }

  /** e to the power of a normal: median 1. */
  lognormal(sd: number): number {
    return Math.exp(this.normal(sd))
  }

  /** Student t of a few degrees of freedom: a normal over the root of a mean of squares of others. */
  heavyTailed(scale: number, degreesOfFreedom: number): number {
    let squares = 0
    for (let count = 0; count < degreesOfFreedom; count++) squares += this.normal() ** 2
    return (scale * this.normal()) / Math.sqrt(squares / degreesOfFreedom)
  }

  /** A walk that forgets: x(t+1) = ρ·x(t) + noise, of a standard deviation `sd`, forgotten over `memory` steps. */
  wandering(length: number, sd: number, memory: number): Float64Array {
    const keep = Math.exp(-1 / memory)
    const step = sd * Math.sqrt(1 - keep ** 2)
    const walk = new Float64Array(length)
    let value = this.normal(sd)
    for (let at = 0; at < length; at++) {
      walk[at] = value
      value = keep * value + this.normal(step)
    }
    return walk
  }
}
