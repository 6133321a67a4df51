import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** A physical constant with its unit and origin. */
export interface ConstantRow {
  readonly value: number
  readonly unit: string
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

/** Charge of a mole of electrons. Exact since the redefinition of the SI in 2019; here to ten digits. */
export const FARADAY = {
  value: 96485.33212,
  unit: 'C/mol',
  status: 'verified',
  sources: ['codata-2018'],
  note: '',
} as const satisfies ConstantRow
