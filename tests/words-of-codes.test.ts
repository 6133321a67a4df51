import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { OBSERVATIONS } from '../src/engine/diagnosis/cause-network.js'
import { EVIDENCE_CODES } from '../src/engine/diagnosis/evidence/evidence-codes.js'
import { QUESTION_CODES } from '../src/engine/diagnosis/evidence/question-codes.js'
import { AUDIT_QUESTION_CODES } from '../src/engine/galvanic/questions.js'
import { REASON_CODES } from '../src/engine/galvanic/reason-codes.js'
import { DIAGNOSIS_CHECKS } from '../src/engine/reference/diagnosis-checks.js'
import { GALVANIC_CAUTIONS } from '../src/engine/reference/galvanic-cautions.js'
import { GALVANIC_SERIES } from '../src/engine/reference/galvanic-series.js'
import { SIGNS_AND_SAFETY } from '../src/engine/reference/signs-and-safety.js'
import { ANODE_ALLOYS, REFERENCE_ELECTRODES, WATERS } from '../src/engine/reference/vocabulary.js'
import type { CodeList } from '../src/engine/said.js'
import { LANGUAGES, type Language } from '../src/messages/languages.js'
import { auditQuestionIn, evidenceIn, questionIn, reasonIn } from '../src/outside/words/sentences.js'
import { SENTENCE_FORMATS } from '../src/presentation/sentence-formats.js'
import { PROJECT_ROOT } from '../src/project-root.js'

type Words = { readonly [key: string]: string }

const read = (language: Language, area: string) =>
  JSON.parse(readFileSync(join(PROJECT_ROOT, 'src/messages', language, `${area}.json`), 'utf8'))

/** The sentences of each list, by what speaks them. */
const LISTS: readonly (readonly [name: string, codes: CodeList, area: string, part: string])[] = [
  ['evidence', EVIDENCE_CODES, 'evidence', 'evidence'],
  ['questions about the record', QUESTION_CODES, 'evidence', 'question'],
  ['reasons', REASON_CODES, 'galvanic', 'reason'],
  ['questions of the audit', AUDIT_QUESTION_CODES, 'galvanic', 'question'],
]
const sayers = {
  evidence: evidenceIn,
  'questions about the record': questionIn,
  reasons: (language: Language) => (said: Parameters<ReturnType<typeof evidenceIn>>[0]) => reasonIn(language)([said]),
  'questions of the audit': auditQuestionIn,
} as const

/** What stands for an English sentence that an old record holds. */
const QUOTED = 'quoted'
const codesIn = (words: Words) =>
  [...new Set(Object.keys(words).map((key) => key.replace(/_(one|other)$/, '')))].filter((key) => key !== QUOTED)
const placeholdersOf = (text: string) => [...text.matchAll(/\{\{(\w+)/g)].map(([, name]) => name!)

/** A value that a sentence can have by that name. */
const KEYS: Readonly<Record<string, string>> = {
  alloy: 'magnesium',
  other: 'zinc',
  declared: 'zinc',
  otherAlloy: 'zinc',
  water: 'brackish',
  electrode: 'sce',
  look: 'pitted',
  outcome: 'read-hull/within',
  grade: 'poor',
  best: 'fair',
  worst: 'severe',
  hull: 'wood',
  at: '2031-04-18T09:30:00Z',
  one: 'even',
}
const METALS = { cathode: 'copper', anode: 'mild-steel', metal: 'copper' }
/** What is counted has no decimals. */
const COUNTS = ['boats', 'readings', 'fitted', 'of', 'anodes', 'alike']
const NAMES = ['anode', 'otherAnode', 'fitting', 'fittings', 'from', 'to', 'part', 'berth']

function someValues(list: string, code: string, names: readonly string[]): Record<string, string | number> {
  const keys =
    list === 'reasons' ? { ...KEYS, ...METALS } : code === 'look/conflict' ? { ...KEYS, other: 'broken' } : KEYS
  const otherwise = (name: string) => {
    if (COUNTS.includes(name)) return 3
    return NAMES.includes(name) && code !== 'hull-potential' ? 'shaft 2' : 0.123456
  }
  return Object.fromEntries(names.map((name) => [name, (keys as Words)[name] ?? otherwise(name)]))
}

describe.each(LISTS)('the codes of %s', (list, codes, area, part) => {
  it.each(LANGUAGES)('all have words in %s, with the values that the engine gives', (language) => {
    const words: Words = read(language, area)[part]
    expect(codesIn(words).sort()).toEqual(Object.keys(codes).sort())
    for (const [key, text] of Object.entries(words)) {
      const values = key === QUOTED ? ['text'] : codes[key.replace(/_(one|other)$/, '')]!
      expect([key, [...new Set(placeholdersOf(text))].sort()]).toEqual([key, [...values].sort()])
    }
  })

  it.each(LANGUAGES)('are said in %s with nothing left open', (language) => {
    const say = sayers[list as keyof typeof sayers](language)
    for (const [code, names] of Object.entries(codes)) {
      for (const count of [1, 3]) {
        const values = { ...someValues(list, code, names), ...(names.includes('count') && { count }) }
        const said = say({ code, values })
        expect(said, code).toMatch(/[.?]$/)
        expect(said, code).not.toMatch(
          /\{\{|undefined|NaN|Invalid|0[.,]1234|\b(alloy|water|look|metal|grade|ofHull)\.\w/,
        )
      }
    }
  })
})

describe('the values of a sentence', () => {
  it.each(LANGUAGES)('are written in %s by formats that there are', (language) => {
    const texts = ['evidence', 'galvanic'].flatMap((area) => [
      ...JSON.stringify(read(language, area)).matchAll(/\{\{\w+, (\w+)\}\}/g),
    ])
    const unknown = texts.map(([, format]) => format!).filter((format) => !(format in SENTENCE_FORMATS))
    expect(texts.length).toBeGreaterThan(50)
    expect(unknown).toEqual([])
  })

  it.each([
    ['en', 'Berth A1 is recorded as fresh water with 3.5 psu. Which of the two is right?'],
    ['de', 'Liegeplatz A1 ist als Süßwasser mit 3,5 PSU erfasst. Was von beidem stimmt?'],
    ['fr', 'La place A1 est notée eau douce avec 3,5 PSU. Lequel des deux est juste ?'],
    ['es', 'El amarre A1 consta como agua dulce con 3,5 PSU. ¿Cuál de los dos es correcto?'],
  ] as const)('are written as %s does', (language, sentence) => {
    const values = { berth: 'A1', water: 'fresh', salinityPsu: 3.5 }
    expect(questionIn(language)({ code: 'water/contradiction', values })).toBe(sentence)
  })

  it('are names as somebody gave them, whatever they look like', () => {
    const anode = '{{x}} $t(quoted) <b>'
    expect(evidenceIn('en')({ code: 'spent/lasts', values: { anode } })).toBe(`${anode} is not used up within a year.`)
  })
})

describe.each(LANGUAGES)('the keys of the reference tables in %s', (language) => {
  const galvanic = read(language, 'galvanic')
  const evidence = read(language, 'evidence')
  const checks = read(language, 'checks')
  const words = read(language, 'words')
  const keysOf = (part: object) => Object.keys(part).sort()
  const sorted = (keys: Iterable<string>) => [...new Set(keys)].sort()

  it('all have words', () => {
    expect(keysOf(galvanic.metal)).toEqual(sorted(GALVANIC_SERIES.map(({ key }) => key)))
    expect(keysOf(galvanic.group)).toEqual(sorted(GALVANIC_SERIES.map(({ group }) => group)))
    expect(keysOf(galvanic.caution)).toEqual(sorted(GALVANIC_CAUTIONS.map(({ key }) => key)))
    expect(keysOf(evidence.electrode)).toEqual(sorted(REFERENCE_ELECTRODES))
    expect(keysOf(words.water)).toEqual(sorted(WATERS))
    expect(keysOf(words.alloy)).toEqual(sorted(ANODE_ALLOYS))
    const looks = ['surface', 'breakage', 'joint-look', 'paint-look', 'surround']
    const states = OBSERVATIONS.filter(({ key }) => looks.includes(key)).flatMap((row) => [...row.states])
    expect(keysOf(evidence.look)).toEqual(sorted(states))
    expect(keysOf(checks.title)).toEqual(sorted(DIAGNOSIS_CHECKS.map(({ key }) => key)))
    expect(keysOf(checks.how)).toEqual(keysOf(checks.title))
    const outcomes = DIAGNOSIS_CHECKS.flatMap(({ key, outcomes }) =>
      Object.keys(outcomes).map((each) => `${key}/${each}`),
    )
    expect(keysOf(checks.outcome)).toEqual(sorted(outcomes))
    expect(Object.keys(checks.safety)).toEqual(expect.arrayContaining(cautionsShown()))
  })
})

/** Cautions that a diagnosis can come with. */
function cautionsShown(): string[] {
  const ofChecks = DIAGNOSIS_CHECKS.flatMap(({ cautions }) => [...cautions])
  const ofCauses = ['electric-shock-drowning', 'rescue', 'cutting-the-earth', 'thin-fitting', 'magnesium-in-salt']
  return [...new Set([...ofChecks, ...ofCauses])].filter((key) => SIGNS_AND_SAFETY.some((row) => row.key === key))
}

it('the English words of the tables are those of the tables', () => {
  const { metal, caution } = read('en', 'galvanic')
  expect(metal).toEqual(Object.fromEntries(GALVANIC_SERIES.map(({ key, name }) => [key, name])))
  expect(caution).toEqual(Object.fromEntries(GALVANIC_CAUTIONS.map(({ key, text }) => [key, text])))
})
