import { expect } from 'vitest'

/** Within a share of the truth. */
export function expectClose(value: number, truth: number, tolerance: number): void {
  expect(Math.abs(value - truth), `${value} against ${truth}`).toBeLessThanOrEqual(tolerance * Math.abs(truth))
}
