import { useEffect, useState } from 'react'
import { newKey } from '../../api/request-key.js'
import { dockToday } from '../../offline/service-clock.js'
import {
  type AnodeDraft,
  dropDraft,
  type HaulOutDraft,
  isTouched,
  keepDraft,
  loadDraft,
  newDraft,
  UNTOUCHED,
} from './draft.js'

/** Changes to what was measured make a confirmation of it void. */
const MEASURED = ['method', 'mass', 'lengthMm', 'widthMm', 'heightMm', 'wastedPercent'] as const

/** The form's state, kept in this browser until it is logged or discarded, so that a reload loses nothing. */
export function useDraft(boat: string) {
  const [draft, setDraft] = useState<HaulOutDraft>(() => loadDraft(localStorage, boat) ?? newDraft(dockToday()))
  const [found] = useState(() => hasEntries(draft))
  const [done, setDone] = useState(false)
  const [isKept, setIsKept] = useState(true)
  useEffect(() => {
    const isOver = done || !hasEntries(draft)
    if (isOver) dropDraft(localStorage, boat)
    setIsKept(isOver || keepDraft(localStorage, boat, draft))
  }, [boat, draft, done])

  const change = (part: Partial<HaulOutDraft>) => setDraft((before) => ({ ...before, ...part }))
  const changeAnode = (anode: string, part: Partial<AnodeDraft>) =>
    setDraft((before) => {
      const was = before.anodes[anode] ?? UNTOUCHED
      const isMeasuredAnew = MEASURED.some((field) => field in part)
      const next = { ...was, ...(isMeasuredAnew && { confirm: [] }), ...part }
      return { ...before, anodes: { ...before.anodes, [anode]: next } }
    })
  return {
    draft,
    /** Whether the form opened with what was typed before. */
    found,
    /** False where the browser has no room: what was typed last is there only as long as the page is open. */
    isKept,
    change,
    changeAnode,
    /** After an answer that refused the request: what is sent next is another one. */
    renewKey: () => change({ idempotencyKey: newKey() }),
    discard: () => setDraft(newDraft(dockToday())),
    finish: () => setDone(true),
  }
}

function hasEntries(draft: HaulOutDraft): boolean {
  return draft.note !== '' || draft.relaunchedOn !== '' || Object.values(draft.anodes).some(isTouched)
}
