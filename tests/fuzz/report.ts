import type { Answer } from './judge.js'
import { KINDS, type Kind, type Plan } from './plans.js'
import type { WireRequest } from './wire.js'

const SHOWN = 500
const SLOWEST_SHOWN = 5

/** Counts of a run, its slowest requests and its faults. */
export class Report {
  readonly seed: number
  readonly #counts = new Map<string, Record<Kind, number>>()
  readonly #operations = new Map<string, Set<number>>()
  readonly #faults = new Map<string, string>()
  #slowest: { tookMs: number; line: string }[] = []
  #overSocket = 0

  constructor(seed: number) {
    this.seed = seed
  }

  add(plan: Plan, wire: WireRequest, answer: Answer, fault: string | undefined): void {
    this.#count(String(answer.status), plan)
    const seen = this.#operations.get(plan.operation.name) ?? new Set()
    this.#operations.set(plan.operation.name, seen.add(answer.status))
    const line = `${plan.kind}, ${plan.asker}: ${lineOf(wire)}`
    this.#slowest.push({ tookMs: answer.tookMs, line })
    this.#slowest = this.#slowest.sort((one, other) => other.tookMs - one.tookMs).slice(0, SLOWEST_SHOWN)
    if (fault) this.#keepFault(plan, fault, `${line}\n    → ${answer.status} ${answer.body.slice(0, SHOWN)}`)
  }

  /** The connection broke, or nothing came. */
  addUnanswered(plan: Plan, wire: WireRequest, error: unknown): void {
    this.#count('none', plan)
    this.#keepFault(plan, `no answer: ${error}`, `${plan.kind}, ${plan.asker}: ${lineOf(wire)}`)
  }

  /** One of each kind of fault for each operation. */
  get faults(): string[] {
    return [...this.#faults].map(([fault, example]) => `${fault}\n    ${example}`)
  }

  get requests(): number {
    return this.#totals().all
  }

  /** Operations that answered with what was asked for, at least once. */
  get succeeded(): string[] {
    return [...this.#operations].filter(([, statuses]) => [...statuses].some((one) => one < 400)).map(([name]) => name)
  }

  get operations(): string[] {
    return [...this.#operations.keys()]
  }

  toString(): string {
    const row = (first: string, cells: readonly (string | number)[]) =>
      first.padEnd(10) + cells.map((cell) => String(cell).padStart(12)).join('')
    const statuses = [...this.#counts].sort(([one], [other]) => one.localeCompare(other))
    const unreached = this.operations.filter((name) => !this.succeeded.includes(name))
    return [
      `seed ${this.seed}, ${this.requests} requests, ${this.#overSocket} of them by a socket`,
      row('answer', [...KINDS, 'all']),
      ...statuses.map(([status, by]) => row(status, [...KINDS.map((kind) => by[kind]), sum(by)])),
      row('all', [...KINDS.map((kind) => this.#totals()[kind]), this.requests]),
      `operations that succeeded at least once: ${this.succeeded.length} of ${this.operations.length}`,
      ...unreached.map((name) => `  never: ${name}: ${[...(this.#operations.get(name) ?? [])].sort().join(' ')}`),
      'slowest:',
      ...this.#slowest.map(({ tookMs, line }) => `  ${Math.round(tookMs)} ms ${line.slice(0, 160)}`),
      `faults: ${this.faults.length}`,
      ...this.faults.map((fault) => `  ${fault}`),
    ].join('\n')
  }

  #count(status: string, plan: Plan): void {
    const by = this.#counts.get(status) ?? { valid: 0, 'near-valid': 0, hostile: 0 }
    by[plan.kind] += 1
    this.#counts.set(status, by)
    if (plan.overSocket) this.#overSocket += 1
  }

  #keepFault(plan: Plan, fault: string, example: string): void {
    const key = `${plan.operation.name}: ${fault}`
    if (!this.#faults.has(key)) this.#faults.set(key, example)
  }

  #totals(): Record<Kind | 'all', number> {
    const totals = { valid: 0, 'near-valid': 0, hostile: 0, all: 0 }
    for (const by of this.#counts.values()) {
      for (const kind of KINDS) totals[kind] += by[kind]
      totals.all += sum(by)
    }
    return totals
  }
}

const sum = (by: Record<Kind, number>) => KINDS.reduce((all, kind) => all + by[kind], 0)

function lineOf({ method, url, headers, payload }: WireRequest): string {
  const { authorization: _key, cookie: _session, ...told } = headers
  const body = payload === undefined ? '' : ` ${JSON.stringify(payload.toString('utf8').slice(0, SHOWN))}`
  return `${method} ${url.slice(0, SHOWN)} ${JSON.stringify(told).slice(0, SHOWN)}${body}`
}
