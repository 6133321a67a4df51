import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'

export interface ReadPdf {
  readonly title: string
  /** The text of each page, as it stands there: pieces in the order of writing, parted by a bar. */
  readonly pages: readonly string[]
  /** How many strokes and fills each page has. */
  readonly drawn: readonly number[]
  /** Names of the typefaces that a page uses. */
  readonly fonts: readonly string[]
}

/** Reads a PDF as a program that shows it would. */
export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 })
  const document = await task.promise
  const pages: string[] = []
  const drawn: number[] = []
  const fonts = new Set<string>()
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number)
    const { items } = await page.getTextContent()
    const pieces = items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item.str.trim()] : []))
    const operators = await page.getOperatorList()
    const constructed = operators.fnArray.filter((operator) => operator === CONSTRUCT_PATH).length
    for (const item of items) if ('fontName' in item) fonts.add(fontName(page, item.fontName))
    pages.push(pieces.join(' | '))
    drawn.push(constructed)
  }
  const { info } = await document.getMetadata()
  await task.destroy()
  return { title: String((info as { Title?: unknown }).Title ?? ''), pages, drawn, fonts: [...fonts] }
}

/** `OPS.constructPath` of the reader: one a path. */
const CONSTRUCT_PATH = 91

function fontName(page: { commonObjs: { has(id: string): boolean; get(id: string): unknown } }, id: string): string {
  if (!page.commonObjs.has(id)) return ''
  return String((page.commonObjs.get(id) as { name?: unknown }).name ?? '')
}
