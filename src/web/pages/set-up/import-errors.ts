import { type FieldProblem, ServiceProblem } from '../../api/problem.js'

/** What the service found wrong with files: at a cell, at a row (no column), or with a whole file (no line). */
export interface CellError {
  readonly file: string
  readonly line: number | null
  readonly column: string | null
  readonly detail: string
}

/** Reads where an error lies out of its pointer. @example '/weighings.csv/17/mass_g' */
export function cellErrorOf({ pointer, detail }: FieldProblem): CellError {
  const [file = '', ...rest] = pointer.split('/').slice(1).map(unescaped)
  const [first] = rest
  const hasLine = first !== undefined && /^\d+$/.test(first)
  const column = (hasLine ? rest[1] : first) ?? null
  return { file, line: hasLine ? Number(first) : null, column, detail }
}

/** Why the service refused the one row of a form's file, by column. */
export function wrongByColumn(error: Error | null): Readonly<Record<string, string>> {
  if (!(error instanceof ServiceProblem)) return {}
  const wrong: Record<string, string> = {}
  for (const { column, detail } of error.fields.map(cellErrorOf)) {
    if (column !== null) wrong[column] = wrong[column] === undefined ? detail : `${wrong[column]} ${detail}`
  }
  return wrong
}

/** A step of a JSON pointer in a fragment (RFC 6901, 6). */
function unescaped(step: string): string {
  return decodeURIComponent(step).replaceAll('~1', '/').replaceAll('~0', '~')
}
