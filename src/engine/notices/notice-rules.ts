/** How near a recommended date is, as far as somebody is told of it: each is told once a turn, in this order. */
export const STAGES = ['silent', 'first', 'second'] as const
export type Stage = (typeof STAGES)[number]

/** An anode in place with its forecast. Day numbers; `null` beyond the forecast's horizon. */
export interface DueAnode {
  readonly key: string
  readonly recommendedOn: number | null
  readonly p10: number | null
  readonly p50: number | null
  readonly p90: number | null
}

/** What somebody was told of an anode last. */
export interface Told {
  readonly stage: Stage
  /** Counts the times that the forecast moved: what was told of an older date does not stand for the new one. */
  readonly turn: number
  /** Day on which it was told, and the interval that was told with it. */
  readonly on: number
  readonly p10: number | null
  readonly p90: number | null
}

/** What is to be told of one anode now. */
export interface AnodeReason {
  readonly key: string
  readonly because: 'first' | 'second' | 'moved'
  readonly stage: Stage
  readonly turn: number
}

/** A person's wishes for one boat. */
export interface NoticeWishes {
  /** How long before the recommended date the first notice comes [d]. */
  readonly leadDays: number
  /** Nothing is told before this day. */
  readonly snoozedUntil: number | null
  readonly isStopped: boolean
}

/** What is known of a boat on a day, and what its owner was told of it before. */
export interface NoticeState {
  readonly today: number
  readonly anodes: readonly DueAnode[]
  /** Keys of findings that need the owner; one that was reopened has another key. */
  readonly findings: readonly string[]
  readonly toldOfAnodes: ReadonlyMap<string, Told>
  readonly toldOfFindings: ReadonlySet<string>
  readonly wishes: NoticeWishes
}

/** One message a boat, or none. */
export interface DueNotice {
  readonly anodes: readonly AnodeReason[]
  readonly findings: readonly string[]
}

/** The second notice: time to ring the yard. As the product's promise says. */
export const SECOND_NOTICE_DAYS = 14
/** What would be told within a month goes along with what is told now, a second notice within a week: an owner reads one letter a season. Convention. */
const FIRST_GOES_ALONG_DAYS = 30
const SECOND_GOES_ALONG_DAYS = 7
/** A move is told this long after the last letter at the earliest: a forecast that wavers is no news. Convention. */
const MOVED_AGAIN_DAYS = 21
/** Smaller moves change nobody's plan. Convention. */
const LEAST_MOVE_DAYS = 7

/**
 * What a boat's owner is to be told today: pure, so that asking again after what it says was told gives nothing more, however often and
 * whenever it is asked.
 *
 * An anode is told of when its recommended date comes within the lead time, again two weeks before it, and when the forecast's middle
 * leaves the interval that was told. Only anodes in place are asked about, so that a replaced one is never told of. Whoever snoozed is told
 * afterwards what is true then.
 */
export function dueNotice(state: NoticeState): DueNotice | null {
  const { today, wishes, toldOfFindings } = state
  if (wishes.isStopped || (wishes.snoozedUntil !== null && today < wishes.snoozedUntil)) return null
  const findings = [...new Set(state.findings)].filter((key) => !toldOfFindings.has(key))
  const now = { first: wishes.leadDays, second: SECOND_NOTICE_DAYS }
  const due = state.anodes.flatMap((anode) => reasonFor(anode, state, now) ?? [])
  if (due.length + findings.length === 0) return null
  const told = new Set(due.map(({ key }) => key))
  const soon = { first: now.first + FIRST_GOES_ALONG_DAYS, second: now.second + SECOND_GOES_ALONG_DAYS }
  const along = state.anodes
    .filter(({ key }) => !told.has(key))
    .flatMap((anode) => reasonFor(anode, state, soon) ?? [])
    .filter(({ because }) => because !== 'moved')
  return { anodes: [...due, ...along], findings }
}

/** How long before the date each notice comes [d]. */
type Ahead = Readonly<Record<'first' | 'second', number>>

function reasonFor(anode: DueAnode, { today, toldOfAnodes }: NoticeState, ahead: Ahead): AnodeReason | null {
  const { key } = anode
  const near = stageOf(anode, today, ahead)
  const told = toldOfAnodes.get(key)
  const turn = told?.turn ?? 0
  if (near !== 'silent' && rank(near) > rank(told?.stage ?? 'silent')) return { key, because: near, stage: near, turn }
  if (told === undefined || !hasMoved(anode, told) || today - told.on < MOVED_AGAIN_DAYS) return null
  return { key, because: 'moved', stage: near, turn: turn + 1 }
}

function stageOf({ recommendedOn }: DueAnode, today: number, { first, second }: Ahead): Stage {
  const left = (recommendedOn ?? Infinity) - today
  if (left <= second) return 'second'
  return left <= first ? 'first' : 'silent'
}

const rank = (stage: Stage) => STAGES.indexOf(stage)

/** The middle has left the interval that was told, by days that matter. */
function hasMoved({ p50 }: DueAnode, { p10, p90 }: Told): boolean {
  const middle = p50 ?? Infinity
  if (middle === Infinity) return p90 !== null
  return middle < (p10 ?? Infinity) - LEAST_MOVE_DAYS || middle > (p90 ?? Infinity) + LEAST_MOVE_DAYS
}
