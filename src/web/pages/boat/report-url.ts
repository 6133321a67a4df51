/** Address of the printable report of a haul-out; of the latest one unless given. */
export function reportUrl(boat: string, haulOut?: string): string {
  const query = haulOut === undefined ? '' : `?haulOut=${encodeURIComponent(haulOut)}`
  return `/v1/boats/${encodeURIComponent(boat)}/report.pdf${query}`
}
