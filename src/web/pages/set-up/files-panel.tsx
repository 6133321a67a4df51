import { type DragEvent, useId, useState } from 'react'
import { Link } from 'react-router'
import { CSV_FILE_NAMES, CSV_FILES, type CsvFileName, csvFileNamed } from '../../../contract/csv/index.js'
import type { ImportAnswer } from '../../../contract/imports.js'
import { useCheckFiles, useLoadFiles } from '../../api/imports.js'
import { ServiceProblem } from '../../api/problem.js'
import { mendSheet, readSheet, writeSheet } from './csv-sheet.js'
import type { Files } from './form-files.js'
import { type CellError, cellErrorOf } from './import-errors.js'
import { type MendedCell, MendTable } from './mend-table.js'
import { useSetUpWords } from './set-up-words.js'

/** CSV files: dropped, checked, mended in place, loaded. */
export function FilesPanel() {
  const t = useSetUpWords()
  const [files, setFiles] = useState<Files>({})
  const [strange, setStrange] = useState<readonly string[]>([])
  const check = useCheckFiles()
  const load = useLoadFiles()
  const names = CSV_FILE_NAMES.filter((name) => files[name] !== undefined)
  const begin = (next: Files) => {
    setFiles(next)
    check.reset()
    load.reset()
  }
  const take = async (given: readonly File[]) => {
    const taken = await readFiles(given)
    setStrange(taken.strange)
    begin({ ...files, ...taken.files })
  }
  const checkAgain = (mended: readonly MendedCell[]) => {
    const next = mendFiles(files, mended)
    begin(next)
    check.mutate(next)
  }
  const { errors, failure } = problemsOf(load.error ?? check.error)
  return (
    <section className="panel stack">
      <h2>{t('files.heading')}</h2>
      <DropField onFiles={(given) => void take(given)} />
      {strange.map((name) => (
        <p key={name} className="field-wrong" role="alert">
          {t('files.notOne', { name, known: CSV_FILE_NAMES.join(', ') })}
        </p>
      ))}
      <Columns />
      {names.length > 0 && <Chosen names={names} onTakeOut={(name) => begin(without(files, name))} />}
      {failure && (
        <p className="field-wrong" role="alert">
          {failure}
        </p>
      )}
      {errors.length > 0 && (
        <MendTable
          key={check.submittedAt}
          errors={errors}
          files={files}
          isBusy={check.isPending}
          onAgain={checkAgain}
        />
      )}
      {names.length > 0 && errors.length === 0 && !check.isSuccess && (
        <button
          type="button"
          className="button button-main"
          disabled={check.isPending}
          onClick={() => check.mutate(files)}
        >
          {check.isPending ? t('files.checking') : t('files.check')}
        </button>
      )}
      {check.isSuccess && errors.length === 0 && (
        <Sound answer={load.data ?? check.data} isBusy={load.isPending} onLoad={() => load.mutate(files)} />
      )}
    </section>
  )
}

function DropField({ onFiles }: { onFiles: (files: File[]) => void }) {
  const t = useSetUpWords()
  const id = useId()
  const [isOver, setIsOver] = useState(false)
  const drop = (event: DragEvent) => {
    event.preventDefault()
    setIsOver(false)
    onFiles([...event.dataTransfer.files])
  }
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is a short cut; the field within does the same by keyboard
    <div
      className="set-up-drop field"
      data-over={isOver}
      onDragOver={(event) => {
        event.preventDefault()
        setIsOver(true)
      }}
      onDragLeave={() => setIsOver(false)}
      onDrop={drop}
    >
      <label htmlFor={id}>{t('files.drop')}</label>
      <input
        id={id}
        type="file"
        accept=".csv,text/csv"
        multiple
        aria-describedby={`${id}-hint`}
        onChange={({ target }) => onFiles([...(target.files ?? [])])}
      />
      <span className="field-hint" id={`${id}-hint`}>
        {t('files.hint')}
      </span>
    </div>
  )
}

function Columns() {
  const t = useSetUpWords()
  return (
    <details className="fold">
      <summary>{t('files.which')}</summary>
      <dl className="set-up-columns">
        {Object.values(CSV_FILES).map(({ name, key, columns }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              {Object.keys(columns).join(', ')}{' '}
              <span className="soft small">
                ({key.join(' + ')}: {t('files.key')})
              </span>
            </dd>
          </div>
        ))}
      </dl>
    </details>
  )
}

function Chosen({ names, onTakeOut }: { names: readonly CsvFileName[]; onTakeOut: (name: CsvFileName) => void }) {
  const t = useSetUpWords()
  return (
    <div className="stack-tight">
      <h3>{t('files.chosen')}</h3>
      <ul className="chips set-up-chosen">
        {names.map((name) => (
          <li key={name}>
            {name}
            <button type="button" aria-label={t('files.take', { name })} onClick={() => onTakeOut(name)}>
              ×
            </button>
          </li>
        ))}
      </ul>
    </div>
  )
}

interface SoundProps {
  answer: ImportAnswer
  isBusy: boolean
  onLoad: () => void
}

function Sound({ answer, isBusy, onLoad }: SoundProps) {
  const t = useSetUpWords()
  return (
    <div className="stack-tight" role="status">
      <p className="set-up-done">{answer.dryRun ? t('files.sound') : t('files.loaded')}</p>
      <ul>
        {Object.entries(answer.files).map(([file, counts]) => (
          <li key={file}>{t('files.counts', { file, ...counts })}</li>
        ))}
      </ul>
      {answer.questions.length > 0 && (
        <div className="set-up-asks stack-tight">
          <p>{t('files.questions')}</p>
          <ul>
            {answer.questions.map(({ pointer, file, line, detail }) => (
              <li key={pointer + detail}>
                {line === null ? file : t('mend.row', { file, line })}: {detail}
              </li>
            ))}
          </ul>
        </div>
      )}
      {answer.dryRun ? (
        <button type="button" className="button button-main" disabled={isBusy} onClick={onLoad}>
          {isBusy ? t('files.loading') : t('files.load')}
        </button>
      ) : (
        <Link className="button" to="/">
          {t('files.toFleet')}
        </Link>
      )}
    </div>
  )
}

async function readFiles(given: readonly File[]): Promise<{ files: Files; strange: string[] }> {
  const known = await Promise.all(
    given.map(async (file) => ({ name: csvFileNamed(file.name), given: file.name, text: await file.text() })),
  )
  return {
    files: Object.fromEntries(known.flatMap(({ name, text }) => (name === undefined ? [] : [[name, text]]))),
    strange: known.flatMap(({ name, given: as }) => (name === undefined ? as : [])),
  }
}

function mendFiles(files: Files, mended: readonly MendedCell[]): Files {
  const names = new Set(mended.map(({ file }) => file))
  const entries = Object.entries(files).map(([name, text]) => {
    if (!names.has(name)) return [name, text]
    return [
      name,
      writeSheet(
        mendSheet(
          readSheet(text),
          mended.filter(({ file }) => file === name),
        ),
      ),
    ]
  })
  return Object.fromEntries(entries)
}

function without(files: Files, name: CsvFileName): Files {
  return Object.fromEntries(Object.entries(files).filter(([each]) => each !== name))
}

/** Cells to mend, or one sentence where it was something else. */
function problemsOf(error: Error | null): { errors: CellError[]; failure: string | null } {
  if (error === null) return { errors: [], failure: null }
  const isOfFiles = error instanceof ServiceProblem && error.fields.length > 0
  return isOfFiles ? { errors: error.fields.map(cellErrorOf), failure: null } : { errors: [], failure: error.message }
}
