import { type FormEvent, useId, useState } from 'react'
import { csvFileNamed } from '../../../contract/csv/index.js'
import { type CellPlace, placeOf, readSheet, type Sheet } from './csv-sheet.js'
import type { Files } from './form-files.js'
import type { CellError } from './import-errors.js'
import { useSetUpWords } from './set-up-words.js'

/** Rows shown at once: more than anybody mends without a look whether it was right. Convention. */
const MOST_ROWS = 30

export interface MendedCell extends CellPlace {
  readonly file: string
  readonly value: string
}

interface MendTableProps {
  errors: readonly CellError[]
  files: Files
  isBusy: boolean
  onAgain: (mended: readonly MendedCell[]) => void
}

/** The rows with something wrong, each cell a field, the wrong ones marked with why. */
export function MendTable({ errors, files, isBusy, onAgain }: MendTableProps) {
  const t = useSetUpWords()
  const [mended, setMended] = useState<ReadonlyMap<string, MendedCell>>(new Map())
  const mend = (cell: MendedCell) =>
    setMended((before) => new Map(before).set(`${cell.file}/${cell.line}/${cell.column}`, cell))
  const submit = (event: FormEvent) => {
    event.preventDefault()
    onAgain([...mended.values()])
  }
  const ofFiles = errors.filter(({ line }) => line === null)
  const named = [...new Set(errors.filter(({ line }) => line !== null).map(({ file }) => file))]
  return (
    <form className="stack" onSubmit={submit}>
      <div role="alert">
        <h3>{t('mend.heading', { count: errors.length })}</h3>
        <p className="soft">{t('mend.hint')}</p>
      </div>
      {ofFiles.map(({ file, column, detail }) => (
        <p key={`${file}/${column}/${detail}`} className="field-wrong">
          {[file, column].filter(Boolean).join(', ')}: {detail}
        </p>
      ))}
      {named.map((file) => {
        const name = csvFileNamed(file)
        return (
          <FileTable
            key={file}
            file={file}
            sheet={readSheet((name && files[name]) ?? '')}
            errors={errors.filter((error) => error.file === file && error.line !== null)}
            onMend={mend}
          />
        )
      })}
      <button type="submit" className="button button-main" disabled={isBusy}>
        {isBusy ? t('files.checking') : t('mend.again')}
      </button>
    </form>
  )
}

interface FileTableProps {
  file: string
  sheet: Sheet
  errors: readonly CellError[]
  onMend: (cell: MendedCell) => void
}

function FileTable({ file, sheet, errors, onMend }: FileTableProps) {
  const t = useSetUpWords()
  const id = useId()
  const lines = [...new Set(errors.flatMap(({ line }) => line ?? []))]
  const columns = sheet.header.map((name) => name.trim().toLowerCase())
  return (
    <div className="stack-tight">
      <h4 id={id}>{file}</h4>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard too */}
      <section className="set-up-scroll" aria-labelledby={id} tabIndex={0}>
        <table className="set-up-table">
          <thead>
            <tr>
              <th scope="col">{t('mend.line')}</th>
              {columns.map((column) => (
                <th scope="col" key={column}>
                  {column}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {lines.slice(0, MOST_ROWS).map((line) => (
              <Row
                key={line}
                line={line}
                columns={columns}
                cells={sheet.rows.find((row) => row.line === line)?.cells ?? []}
                errors={errors.filter((error) => error.line === line)}
                isKnown={(column) => column !== null && placeOf(sheet, column) !== -1}
                onMend={(column, value) => onMend({ file, line, column, value })}
              />
            ))}
          </tbody>
        </table>
      </section>
      {lines.length > MOST_ROWS && <p className="soft">{t('mend.more', { count: lines.length - MOST_ROWS })}</p>}
    </div>
  )
}

interface RowProps {
  line: number
  columns: readonly string[]
  cells: readonly string[]
  errors: readonly CellError[]
  isKnown: (column: string | null) => boolean
  onMend: (column: string, value: string) => void
}

function Row({ line, columns, cells, errors, isKnown, onMend }: RowProps) {
  const t = useSetUpWords()
  const id = useId()
  const ofRow = errors.filter(({ column }) => !isKnown(column))
  return (
    <>
      <tr>
        <th scope="row">{line}</th>
        {columns.map((column, index) => {
          const wrong = errors.filter((error) => error.column === column)
          return (
            <td key={column}>
              <input
                aria-label={t('mend.cell', { column, line })}
                defaultValue={cells[index] ?? ''}
                aria-invalid={wrong.length > 0}
                aria-describedby={wrong.length > 0 ? `${id}-${column}` : undefined}
                onChange={({ target }) => onMend(column, target.value)}
              />
              {wrong.length > 0 && (
                <p className="field-wrong" id={`${id}-${column}`}>
                  {wrong.map(({ detail }) => detail).join(' ')}
                </p>
              )}
            </td>
          )
        })}
      </tr>
      {ofRow.length > 0 && (
        <tr className="set-up-of-row">
          <td colSpan={columns.length + 1}>
            <p className="field-wrong">{ofRow.map(({ detail }) => detail).join(' ')}</p>
          </td>
        </tr>
      )}
    </>
  )
}
