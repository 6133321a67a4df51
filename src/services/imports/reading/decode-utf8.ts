import { setImmediate } from 'node:timers/promises'

/** Bytes that are not UTF-8, with the line they stand on. */
export class NotUtf8 extends Error {
  readonly line: number

  constructor(line: number) {
    super('not UTF-8')
    this.name = 'NotUtf8'
    this.line = line
  }
}

const NEWLINE = 0x0a
/** Bytes decoded and parsed before others get their turn. */
const BYTES_AT_ONCE = 64 * 1024

/**
 * Bytes to text, without the byte-order mark.
 *
 * @throws NotUtf8 at the first byte that is not
 */
export async function* decodeUtf8(content: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { fatal: true })
  const lines = new LineWatch()
  for await (const piece of content) {
    for (let start = 0; start < piece.length; start += BYTES_AT_ONCE) {
      const bytes = piece.subarray(start, start + BYTES_AT_ONCE)
      const text = decoded(() => decoder.decode(bytes, { stream: true }), lines, bytes)
      lines.pass(bytes)
      if (text !== '') yield text
      await setImmediate()
    }
  }
  const rest = decoded(() => decoder.decode(), lines, new Uint8Array())
  if (rest !== '') yield rest
}

function decoded(decode: () => string, lines: LineWatch, bytes: Uint8Array): string {
  try {
    return decode()
  } catch {
    throw new NotUtf8(lines.lineOfFirstBadByte(bytes))
  }
}

/** Knows the number of the line that the next byte belongs to, and the bytes of that line so far. */
class LineWatch {
  #line = 1
  #begun: Uint8Array = new Uint8Array()

  pass(bytes: Uint8Array): void {
    for (let at = bytes.indexOf(NEWLINE); at >= 0; at = bytes.indexOf(NEWLINE, at + 1)) this.#line += 1
    const last = bytes.lastIndexOf(NEWLINE)
    this.#begun = unfinishedCharacter(last >= 0 ? bytes.subarray(last + 1) : joined(this.#begun, bytes))
  }

  lineOfFirstBadByte(bytes: Uint8Array): number {
    const text = joined(this.#begun, bytes)
    let line = this.#line
    for (let start = 0; start < text.length; line += 1) {
      const newline = text.indexOf(NEWLINE, start)
      const end = newline < 0 ? text.length : newline
      if (!isUtf8(text.subarray(start, end))) return line
      start = end + 1
    }
    return line
  }
}

/** The last bytes, as many as a character may have, from the first that can begin one. */
function unfinishedCharacter(bytes: Uint8Array): Uint8Array {
  const tail = bytes.slice(-4)
  const start = tail.findIndex((byte) => (byte & 0xc0) !== 0x80)
  return tail.subarray(start < 0 ? tail.length : start)
}

function joined(first: Uint8Array, second: Uint8Array): Uint8Array {
  return Buffer.concat([first, second])
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes)
    return true
  } catch {
    return false
  }
}
