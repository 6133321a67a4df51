import fc from 'fast-check'
import { CSV_FILES } from '../../src/contract/csv/index.js'
import { hostileText } from './hostile-values.js'
import { Known } from './known.js'
import type { Schema } from './operations.js'
import { pickOne, ValidValues } from './valid-values.js'

/** A part of multipart/form-data; a part without a file's name is a field. */
export interface FormPart {
  readonly field: string
  readonly fileName: string | undefined
  readonly content: string | Buffer | readonly unknown[][]
}

/** The parts that an operation's form has. */
export function formOf(schema: Schema, pictures: readonly Buffer[]): fc.Arbitrary<FormPart[]> {
  if (schema.properties?.photo) {
    const picture = fc.constantFrom(...pictures).map((content) => ({ field: 'photo', fileName: 'hull.jpg', content }))
    return fc.array(picture, { minLength: 1, maxLength: 2 })
  }
  const files = Object.keys(schema.properties ?? {}) as (keyof typeof CSV_FILES & string)[]
  return fc.subarray(files, { minLength: 1, maxLength: 2 }).chain((names) => fc.tuple(...names.map(csvPart)))
}

/** One part is made wrong: its name, its file's name or what is in it. */
export function spoilt(parts: readonly FormPart[], at: number, how: number, text: string): FormPart[] {
  return parts.map((part, index) => {
    if (index !== at % parts.length) return part
    if (how < 0.25) return { ...part, field: text }
    if (how < 0.5) return { ...part, fileName: text }
    if (how < 0.75) return { ...part, content: text }
    return { ...part, content: Buffer.from(asBytes(part.content)).subarray(0, 100) }
  })
}

export const hostileForm: fc.Arbitrary<FormPart[]> = fc.array(
  fc.record({
    field: hostileText,
    fileName: fc.option(hostileText, { nil: undefined }),
    content: hostileText,
  }),
  { maxLength: 45 },
)

export function encodeForm(parts: readonly FormPart[], boundary: string): Buffer {
  const encoded = parts.flatMap(({ field, fileName, content }) => [
    Buffer.from(`--${boundary}\r\ncontent-disposition: form-data; name="${quoted(field)}"`),
    Buffer.from(fileName === undefined ? '' : `; filename="${quoted(fileName)}"`),
    Buffer.from('\r\n\r\n'),
    asBytes(content),
    Buffer.from('\r\n'),
  ])
  return Buffer.concat([...encoded, Buffer.from(`--${boundary}--\r\n`)])
}

/** HTML Living Standard, 4.10.21.8: what a browser writes for these in a name. */
function quoted(name: string): string {
  return name.replaceAll('\r', '%0D').replaceAll('\n', '%0A').replaceAll('"', '%22')
}

function asBytes(content: FormPart['content']): Buffer {
  if (typeof content === 'string') return Buffer.from(content)
  if (Buffer.isBuffer(content)) return content
  const rows = content as readonly unknown[][]
  return Buffer.from(rows.map((row) => row.map((cell) => csvCell(String(cell))).join(',')).join('\n'))
}

function csvCell(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

const NAMES = new ValidValues({ paths: {}, components: { schemas: {} } })

function csvPart(name: string): fc.Arbitrary<FormPart> {
  const columns = Object.keys(Object.values(CSV_FILES).find((file) => file.name === name)?.columns ?? {})
  const row = fc.tuple(...columns.map(cellOf))
  return fc.array(row, { maxLength: 4 }).map((rows) => ({ field: 'file', fileName: name, content: [columns, ...rows] }))
}

/** What a column of that name may well hold, known things first. */
function cellOf(column: string): fc.Arbitrary<unknown> {
  const known = (kind: string) => pickOne.map((pick) => new Known(kind, pick, `some ${kind}`))
  const usual = CELLS.find(([name]) => name.test(column))?.[1]
  if (usual) return fc.oneof({ weight: 8, arbitrary: usual }, { weight: 1, arbitrary: fc.constant('') })
  const list = column === 'boat' ? 'boats' : column
  return fc.oneof({ weight: 4, arbitrary: known(list) }, { weight: 1, arbitrary: NAMES.of({ type: 'string' }, column) })
}

const CELLS: readonly (readonly [RegExp, fc.Arbitrary<unknown>])[] = [
  [/_on$|^on$|^from$|^to$/, NAMES.of({ type: 'string', format: 'date' }, 'day')],
  [/_at$/, NAMES.of({ type: 'string', format: 'date-time' }, 'instant')],
  [/_g$|_mm$|_cm2$|_psu$|percent$|_year$|ohms$|hours/, fc.integer({ min: 0, max: 2100 })],
  [/volts|latitude|longitude/, fc.double({ min: -1.2, max: 0, noNaN: true })],
  [/^(shore_power|coated|bonded|cleaned|planned|galvanic_isolator)$/, fc.constantFrom('yes', 'no')],
  [/^water$|submerged_in/, fc.constantFrom('salt', 'fresh')],
  [/^alloy$/, fc.constantFrom('zinc', 'aluminium', 'magnesium')],
  [/^hull$/, fc.constantFrom('grp', 'steel')],
  [/^method$/, fc.constantFrom('scale', 'visual', 'dimensions')],
  [/^reference$/, fc.constantFrom('zinc', 'ag-agcl-seawater')],
  [/email/, fc.constant('someone@example.org')],
]
