import type { HaulOutDetail } from '../../../contract/haul-outs.js'
import type { WeighingView } from '../../../contract/weighings.js'
import type { OutboxEntry } from '../../offline/outbox-entry.js'

type Sent = NonNullable<OutboxEntry['body']['weighings']>[number]

/** One anode that two people logged differently on one day. */
export interface Clash {
  readonly anode: string
  readonly mine: Sent
  /** Null where they replaced it without a weighing. */
  readonly theirs: WeighingView | null
}

/** What of an entry differs from what was logged that day. */
export function clashesOf({ body }: Pick<OutboxEntry, 'body'>, logged: HaulOutDetail): Clash[] {
  return (body.weighings ?? []).flatMap((mine): Clash[] => {
    const theirs = logged.weighings.find(({ anode }) => anode === mine.anode) ?? null
    const isReplaced = logged.replaced.some(({ anode }) => anode === mine.anode)
    return theirs !== null || (isReplaced && mine.replacedBy !== undefined) ? [{ anode: mine.anode, mine, theirs }] : []
  })
}

/** What a correction of their weighing says: what was measured here, nothing else. */
export function correctionOf({ anode: _, replacedBy: __, confirm, ...measured }: Sent, reason: string) {
  return { ...measured, ...(confirm && { confirm }), reason }
}

/**
 * An entry without what clashes, ready to be sent again as another request. A new part that they did not log is still told.
 *
 * @param notes what to write beside theirs, so that both readings stay on record
 */
export function withoutClashes(
  entry: OutboxEntry,
  clashes: readonly Clash[],
  logged: HaulOutDetail,
  notes: readonly string[],
  key: string,
): OutboxEntry {
  const weighings = (entry.body.weighings ?? []).flatMap((sent): Sent[] => {
    if (!clashes.some(({ anode }) => anode === sent.anode)) return [sent]
    const isReplaced = logged.replaced.some(({ anode }) => anode === sent.anode)
    return sent.replacedBy === undefined || isReplaced ? [] : [{ anode: sent.anode, replacedBy: sent.replacedBy }]
  })
  const note = [entry.body.note, ...notes].filter(Boolean).join('\n')
  const body = { ...entry.body, weighings, ...(note !== '' && { note }) }
  const anodes = weighings.map(({ anode }) => anode)
  return { ...entry, key, body, anodes, state: 'queued', refusal: null }
}
