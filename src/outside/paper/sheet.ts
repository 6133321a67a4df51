import { createRequire } from 'node:module'
import PDFDocument from 'pdfkit'
import { printable } from './printable-text.js'

export type Pdf = InstanceType<typeof PDFDocument>

/** A4 and its margins [pt]. */
const WIDTH = 595.28
const HEIGHT = 841.89
const MARGIN = 40
export const LEFT = MARGIN
export const RIGHT = WIDTH - MARGIN
const BOTTOM = HEIGHT - MARGIN
/** Kept free for the lines at the foot of a page [pt]. */
const FOOT_HEIGHT = 28

/** Printed on white: the page's own colours by day. */
export const INK = {
  ink: '#14222a',
  soft: '#44545c',
  rule: '#cbc3b1',
  sunk: '#e6e0d2',
  act: '#0c5a68',
  bootTop: '#b8412a',
  warn: '#93410a',
  stop: '#97201f',
} as const

const fontFile = createRequire(import.meta.url).resolve
const FONTS = { plain: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' } as const
export type Face = keyof typeof FONTS

export interface Style {
  readonly face?: Face
  readonly size?: number
  readonly colour?: string
  readonly align?: 'left' | 'right'
}

const BODY = 8.5
/** Less than this part of a line counts as no room: heights are sums of fractions. */
const WHOLE_LINE = 0.99

/** One page that is filled from the top; what no longer fits is left out, never set on a page more. */
export class Sheet {
  readonly doc: Pdf
  /** Where the next line goes, from the top [pt]. */
  y = MARGIN

  constructor(doc: Pdf) {
    this.doc = doc
    doc.addPage({ size: 'A4', margin: 0 })
  }

  /** Space left above the lines at the foot [pt]. */
  get room(): number {
    return BOTTOM - FOOT_HEIGHT - this.y
  }

  /** The last lines of a page, once all else is set. */
  foot(caution: string, made: string): void {
    this.y = BOTTOM - FOOT_HEIGHT
    this.rule()
    this.#bottomLine(caution, { face: 'bold', size: 7.5 })
    this.#bottomLine(made, { size: 7.5, colour: INK.soft })
  }

  #bottomLine(text: string, style: Style): void {
    const height = this.#set(style)
    this.doc.text(this.#shortened(printable(text), RIGHT - LEFT), LEFT, this.y, { lineBreak: false })
    this.y += height + 1
  }

  heading(text: string): void {
    this.y += 8
    this.line(text, { face: 'bold', size: 11, colour: INK.act })
    this.y += 2
  }

  /** One line, cut short with an ellipsis where it is too long. */
  line(text: string, style: Style = {}): void {
    this.cell(text, LEFT, RIGHT - LEFT, style)
    this.y += this.#set(style) + 1
  }

  /** A paragraph of at most so many lines. */
  paragraph(text: string, style: Style = {}, mostLines = 4): void {
    const height = this.block(text, LEFT, RIGHT - LEFT, mostLines, style)
    if (height > 0) this.y += height + 2
  }

  /** Text of at most so many lines at a place of its own. @returns its height; 0 where there was no room [pt] */
  block(text: string, x: number, width: number, mostLines: number, style: Style = {}): number {
    const lineHeight = this.#set(style)
    const body = printable(text)
    const align = style.align ?? 'left'
    const height = Math.min(this.doc.heightOfString(body, { width }), lineHeight * mostLines, this.room)
    if (height < lineHeight * WHOLE_LINE) return 0
    this.doc.text(body, x, this.y, { width, height: height + 1, ellipsis: true, align })
    return height
  }

  /** One line of text at a place of its own on the current line. */
  cell(text: string, x: number, width: number, style: Style = {}): void {
    const lineHeight = this.#set(style)
    if (this.room < lineHeight) return
    const shown = this.#shortened(printable(text), width)
    const indent = style.align === 'right' ? width - this.doc.widthOfString(shown) : 0
    this.doc.text(shown, x + indent, this.y, { lineBreak: false })
  }

  rule(colour: string = INK.rule): void {
    this.doc.moveTo(LEFT, this.y).lineTo(RIGHT, this.y).lineWidth(0.5).stroke(colour)
    this.y += 3
  }

  #set({ face = 'plain', size = BODY, colour = INK.ink }: Style): number {
    this.doc.font(face).fontSize(size).fillColor(colour)
    return this.doc.currentLineHeight(true)
  }

  #shortened(text: string, width: number): string {
    if (this.doc.widthOfString(text) <= width) return text
    const letters = [...text]
    while (letters.length > 0 && this.doc.widthOfString(`${letters.join('')}…`) > width) letters.pop()
    return `${letters.join('')}…`
  }
}

/** A document whose typeface is embedded, so that it prints alike everywhere. */
export function newDocument(info: { title: string; author: string; madeAt: Date; language: string }): Pdf {
  const doc = new PDFDocument({
    autoFirstPage: false,
    lang: info.language,
    displayTitle: true,
    info: { Title: printable(info.title), Author: printable(info.author), CreationDate: info.madeAt },
  })
  for (const [face, file] of Object.entries(FONTS)) {
    doc.registerFont(face, fontFile(`dejavu-fonts-ttf/ttf/${file}`))
  }
  return doc
}

/** Everything that was written, once the document is ended. */
export async function bytesOf(doc: Pdf): Promise<Buffer> {
  const parts: Buffer[] = []
  doc.on('data', (part: Buffer) => parts.push(part))
  const written = new Promise<void>((resolve, reject) => {
    doc.on('end', resolve)
    doc.on('error', reject)
  })
  doc.end()
  await written
  return Buffer.concat(parts)
}
