/**
 * Reads a number as people type it, comma or point.
 *
 * @returns the number; null when there is nothing; NaN when it is none
 * @example parseNumber('1,25') // 1.25
 */
export function parseNumber(text: string): number | null {
  const bare = text.trim().replace(/\s/g, '')
  if (bare === '') return null
  return /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(bare) ? Number(bare.replace(',', '.')) : Number.NaN
}
