import type { FastifyInstance } from 'fastify'
import { HttpProblem } from './problem.js'

/** The deepest body of the API has 5 levels (a row of the calculator `mixed-model`); assumed: none will ever have four times that. */
const DEEPEST_LEVELS = 20

/**
 * Refuses a body that is nested more deeply than any route's: a few kilobytes of brackets are a hundred thousand levels,
 * and whatever goes through them by recursion (a schema, JSON.stringify) runs out of stack.
 */
export function refuseDeepBodies(app: FastifyInstance): void {
  app.addHook('preValidation', async ({ body }) => {
    if (isDeeperThan(body, DEEPEST_LEVELS)) {
      throw new HttpProblem(400, `the request must not be nested more than ${DEEPEST_LEVELS} levels deep`)
    }
  })
}

/** Level by level, without recursion. */
function isDeeperThan(value: unknown, levels: number): boolean {
  let level = [value].filter(isContainer)
  for (let depth = 0; level.length > 0; depth++) {
    if (depth === levels) return true
    level = level.flatMap((container) => Object.values(container)).filter(isContainer)
  }
  return false
}

/** Files of a form and raw bytes are no JSON. */
function isContainer(value: unknown): value is object {
  return typeof value === 'object' && value !== null && (Array.isArray(value) || isPlain(value))
}

function isPlain(value: object): boolean {
  const prototype = Object.getPrototypeOf(value)
  return prototype === Object.prototype || prototype === null
}
