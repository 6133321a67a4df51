import { useMutation, useQueryClient } from '@tanstack/react-query'
import { ImportAnswer } from '../../contract/imports.js'
import { send } from './http.js'

export type ImportFiles = Readonly<Partial<Record<string, string>>>

/** Checks the files as a real import would, and writes nothing. */
export function useCheckFiles() {
  return useMutation({ mutationFn: (files: ImportFiles) => post(files, '?dryRun=true') })
}

/** Loads the files: all of them, or nothing. */
export function useLoadFiles() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: (files: ImportFiles) => post(files, ''),
    onSuccess: () => queries.invalidateQueries(),
  })
}

export interface Addition {
  readonly files: ImportFiles
  /** What to do with rows that are on record already: tell of them first, or change them. */
  readonly existing: 'tell' | 'change'
}

/** Loads what is new; where something of it is on record already it only tells how much, unless that is to be changed. */
export function useAdd() {
  const queries = useQueryClient()
  return useMutation({
    mutationFn: async ({ files, existing }: Addition) => {
      if (existing === 'tell') {
        const checked = await post(files, '?dryRun=true')
        if (Object.values(checked.files).some(({ created, rows }) => created < rows)) return checked
      }
      return post(files, '')
    },
    // Not waited for: a form is emptied for the next entry at once, not once something of that was typed already.
    onSuccess: ({ dryRun }) => {
      if (!dryRun) void queries.invalidateQueries()
    },
  })
}

function post(files: ImportFiles, query: string) {
  const form = new FormData()
  for (const [name, text] of Object.entries(files)) {
    if (text !== undefined) form.append('files', new Blob([text], { type: 'text/csv' }), name)
  }
  return send(ImportAnswer, `/v1/imports${query}`, { form })
}
