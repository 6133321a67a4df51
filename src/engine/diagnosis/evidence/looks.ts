import type { AnodeLook } from '../fleet-facts.js'
import { type Evidence, evidence } from './evidence.js'
import { ask } from './question-codes.js'
import type { RecordQuestion } from './record-question.js'
import { isWithin, nameOf, type Scene, type SceneAnode } from './scene.js'

/** How codes are read as states of one observation: the first row that a look has a code of decides. */
interface CodeReading {
  readonly observation: string
  readonly rows: readonly { readonly codes: readonly string[]; readonly state: string }[]
  /** State of a look with some code, but none of the rows'; without it such a look says nothing here. */
  readonly otherwise?: string
}

const CODE_READINGS: readonly CodeReading[] = [
  {
    observation: 'surface',
    rows: [
      { codes: ['bright', 'sharp-edged'], state: 'sharp' },
      { codes: ['crusted'], state: 'crusted' },
      { codes: ['undercut'], state: 'undercut' },
      { codes: ['even'], state: 'even' },
    ],
  },
  {
    observation: 'breakage',
    rows: [
      { codes: ['missing'], state: 'missing' },
      { codes: ['broken'], state: 'broken' },
    ],
    otherwise: 'whole',
  },
  { observation: 'joint-look', rows: [{ codes: ['loose'], state: 'loose' }], otherwise: 'firm' },
  { observation: 'paint-look', rows: [{ codes: ['painted'], state: 'painted' }], otherwise: 'bare' },
  {
    observation: 'surround',
    rows: [
      { codes: ['pitted'], state: 'pitted' },
      { codes: ['pink'], state: 'pink' },
      { codes: ['paint-blistered'], state: 'paint-blistered' },
      { codes: ['scaled'], state: 'scaled' },
    ],
  },
]

/** Codes that one anode cannot have on one day. */
const CONFLICTS: readonly (readonly [string, string])[] = [
  ['even', 'broken'],
  ['even', 'missing'],
  ['even', 'sharp-edged'],
  ['even', 'undercut'],
  ['bright', 'crusted'],
  ['bright', 'painted'],
  ['missing', 'bright'],
  ['missing', 'sharp-edged'],
  ['missing', 'crusted'],
  ['missing', 'painted'],
  ['missing', 'loose'],
  ['missing', 'undercut'],
]

const METAL_CODES: readonly string[] = ['pitted', 'pink', 'scaled', 'paint-blistered']

/** What the eye saw of the scene's anodes: one piece of evidence an observation, by the state most anodes were in. */
export function lookEvidence(scene: Scene): Evidence[] {
  return CODE_READINGS.flatMap((reading) => {
    const seen = scene.anodes.flatMap((anode) => {
      const states = looksWithin(scene, anode).flatMap((look) => stateOf(reading, look) ?? [])
      const state = mostTelling(reading, states)
      return state === null ? [] : [{ state, name: nameOf(anode) }]
    })
    const state = commonest(
      reading,
      seen.map((each) => each.state),
    )
    if (state === null) return []
    const names = seen.filter((each) => each.state === state).map(({ name }) => name)
    return [looked(reading.observation, state, names, seen.length)]
  })
}

/** The pair of codes of a look that exclude each other; `null` where it is of one mind. */
export function conflictOf({ conditions }: Pick<AnodeLook, 'conditions'>): readonly [string, string] | null {
  return CONFLICTS.find(([one, other]) => conditions.includes(one) && conditions.includes(other)) ?? null
}

/** What to ask about the looks whose codes exclude each other. */
export function lookQuestions({ facts }: Pick<SceneAnode, 'facts'>): RecordQuestion[] {
  return (facts?.looks ?? []).flatMap((look): RecordQuestion[] => {
    const conflict = conflictOf(look)
    if (conflict === null) return []
    const [one, other] = conflict
    const about = facts?.anode ?? null
    return [{ kind: 'look', about, on: look.on, ...ask('look/conflict', { anode: about ?? '', one, other }) }]
  })
}

/** Looks of one mind that can tell of the scene. */
function looksWithin(scene: Scene, { facts }: SceneAnode): AnodeLook[] {
  return (facts?.looks ?? []).filter(
    (look) => isWithin(scene, look.on) && look.conditions.length > 0 && conflictOf(look) === null,
  )
}

function stateOf({ rows, otherwise }: CodeReading, { conditions }: AnodeLook): string | null {
  const row = rows.find(({ codes }) => codes.some((code) => conditions.includes(code)))
  if (row !== undefined) return row.state
  const isOfAnode = conditions.some((code) => !METAL_CODES.includes(code))
  return isOfAnode ? (otherwise ?? null) : null
}

/** Of one anode's looks: what was seen once is not undone by a look that doesn't name it. */
function mostTelling({ rows, otherwise }: CodeReading, states: readonly string[]): string | null {
  return rows.find(({ state }) => states.includes(state))?.state ?? (states.length > 0 ? (otherwise ?? null) : null)
}

function commonest({ rows, otherwise }: CodeReading, states: readonly string[]): string | null {
  const order = [...rows.map(({ state }) => state), ...(otherwise === undefined ? [] : [otherwise])]
  const counts = order.map((state) => ({ state, count: states.filter((each) => each === state).length }))
  const most = counts.reduce((best, each) => (each.count > best.count ? each : best), { state: '', count: 0 })
  return most.count === 0 ? null : most.state
}

function looked(observation: string, state: string, [anode, ...others]: readonly string[], of: number): Evidence {
  if (of === 1) return evidence(observation, state, 'look', { anode: anode!, look: state })
  return evidence(observation, state, 'looks', { alike: 1 + others.length, of, look: state })
}
