/** Under what a fit is kept in memory: whose, as of when, and how much of the audit trail it had seen. */
export function fitKey(organisationId: string, asOf: string, revision: number): string {
  return `${organisationId}:${asOf}:${revision}`
}
