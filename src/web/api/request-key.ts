/** A key that names one intent, so that sending it twice does it once. */
export function newKey(): string {
  // randomUUID is missing where a yard serves plain HTTP under a name of its own.
  const bytes = crypto.getRandomValues(new Uint8Array(16))
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
}
