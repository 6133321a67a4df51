/**
 * What to answer with, of what a request accepts (RFC 9110, 12.5.1): the offer that its most preferred range names, the
 * first one for `*` ranges and where nothing is asked for.
 *
 * @param offers what stands for each media type, most common first
 * @returns undefined when nothing on offer is accepted
 * @example preferredType('text/html, *\/*;q=0.1', { 'text/csv': 'a', 'text/html': 'b' }) // 'b'
 */
export function preferredType<const T>(accept: string | undefined, offers: Readonly<Record<string, T>>): T | undefined {
  const ranges = (accept?.trim() || '*/*').split(',').map(readRange)
  const preferred = ranges.filter(({ quality }) => quality > 0).sort((a, b) => b.quality - a.quality)
  for (const { range } of preferred) {
    const found = Object.entries(offers).find(([type]) => matches(range, type))
    if (found) return found[1]
  }
  return undefined
}

/**
 * What somebody reads, the best liked first (RFC 9110, 12.5.4).
 *
 * @example acceptedLanguages('fr;q=0.5, de-CH') // ['de-ch', 'fr']
 */
export function acceptedLanguages(accept: string | undefined): string[] {
  return (accept ?? '')
    .split(',')
    .map(readRange)
    .filter(({ range, quality }) => range !== '' && quality > 0)
    .sort((a, b) => b.quality - a.quality)
    .map(({ range }) => range)
}

function readRange(text: string): { range: string; quality: number } {
  const [range = '', ...parameters] = text.split(';').map((part) => part.trim().toLowerCase())
  const quality = parameters.find((parameter) => parameter.startsWith('q='))
  return { range, quality: quality === undefined ? 1 : Number(quality.slice(2)) || 0 }
}

function matches(range: string, type: string): boolean {
  return range === '*/*' || range === type || (range.endsWith('/*') && type.startsWith(range.slice(0, -1)))
}
