/** Under what a fit is kept in memory: whose, as of when, and how much of the audit trail it had seen. */
export function fitKey(organisationId: string, asOf: string, revision: number): string {
  return `${organisationId}:${asOf}:${revision}`
}

/** Whose and as of when: what the fits have in common that differ in what they had seen. */
export function fleetOfKey(key: string): string {
  return key.slice(0, key.lastIndexOf(':'))
}
