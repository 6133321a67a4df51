import { skipToken, useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import type { PontoonDrawing } from '../../../../contract/pontoon-drawing.js'
import { bodyOf, type Harbour, harbourOf } from './harbour.js'
import { allApplied, applied, type Step } from './steps.js'

/** Steps that are not saved, and the drawing that they were drawn on, whatever has been read since. */
interface Draft {
  readonly base: PontoonDrawing
  readonly steps: readonly Step[]
}

const DRAFT = ['drawing draft']

export interface DrawnNow {
  readonly harbour: Harbour
  readonly steps: readonly Step[]
  readonly version: number
  readonly body: ReturnType<typeof bodyOf>
  /** @returns whether it could be done */
  readonly take: (step: Step) => boolean
  readonly undo: () => void
  readonly forget: () => void
  /** Draws the steps on another drawing. @returns how many of them could not be done there */
  readonly drawOn: (base: PontoonDrawing) => number
}

/** What is drawn by now. It outlasts a look at another page; leaving the app with steps unsaved is asked about. */
export function useDraft(read: PontoonDrawing): DrawnNow {
  const queries = useQueryClient()
  const kept = useQuery<Draft | null>({
    queryKey: DRAFT,
    queryFn: skipToken,
    initialData: null,
    staleTime: Number.POSITIVE_INFINITY,
    gcTime: Number.POSITIVE_INFINITY,
  })
  const draft = kept.data ?? { base: read, steps: [] }
  const keep = (steps: readonly Step[], base = draft.base) =>
    queries.setQueryData<Draft | null>(DRAFT, steps.length === 0 ? null : { base, steps })
  const { harbour } = allApplied(harbourOf(draft.base), draft.steps)
  useAskBeforeLeaving(draft.steps.length > 0)
  return {
    harbour,
    steps: draft.steps,
    version: draft.base.version,
    body: bodyOf(harbour),
    take: (step) => {
      if (applied(harbour, step) === null) return false
      keep([...draft.steps, step])
      return true
    },
    undo: () => keep(draft.steps.slice(0, -1)),
    forget: () => keep([]),
    drawOn: (base) => {
      const { done } = allApplied(harbourOf(base), draft.steps)
      keep(done, base)
      return draft.steps.length - done.length
    },
  }
}

function useAskBeforeLeaving(isUnsaved: boolean): void {
  useEffect(() => {
    if (!isUnsaved) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    addEventListener('beforeunload', ask)
    return () => removeEventListener('beforeunload', ask)
  }, [isUnsaved])
}
