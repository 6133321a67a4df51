import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { z } from 'zod'
import { Name } from '../../src/contract/names.js'
import english from '../../src/messages/en/refusals.json' with { type: 'json' }
import { PROJECT_ROOT } from '../../src/project-root.js'
import { judgeWeighing } from '../../src/services/weighings/plausibility.js'
import { read } from '../../src/web/api/http.js'
import { ServiceProblem } from '../../src/web/api/problem.js'
import { refusalWords } from '../../src/web/i18n/refusal-words.js'

const readerOf = (language: string) => {
  vi.stubGlobal('navigator', { languages: [language] })
  return refusalWords()
}
afterEach(() => vi.unstubAllGlobals())

/** Where what people enter is judged. */
const JUDGES = ['weighings', 'haul-outs', 'anodes', 'photos', 'fleet', 'forecasts', 'costs', 'imports', 'desk']

/** What a file of the service says of a field: its sentences as they stand in the source, each slot filled with a word. */
function sentencesOf(source: string): string[] {
  const code = source.replaceAll(/^\s*\*.*$/gm, '')
  const found = code.matchAll(/\bdetail(?: =|:) ([`'"])((?:\\.|\$\{[^}]*\}|(?!\1).)*)\1/g)
  return [...found].map(([, , text]) => text!.replaceAll(/\$\{[^}]*\}/g, 'X1').replaceAll("\\'", "'"))
}

const sources = JUDGES.flatMap((folder) =>
  readdirSync(join(PROJECT_ROOT, 'src/services', folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => join(entry.parentPath, entry.name)),
)
const sentences = sources.flatMap((path) => sentencesOf(readFileSync(path, 'utf8')))

/** Said of requests that no form of these pages sends. */
const OF_PROGRAMS = [
  /^another X1 of the drawing/,
  /^there is no X1 of this id$/,
  /^this X1 stands in the drawing already$/,
  // Clashes: said by their code (problems.json).
  /^the haul-out on X1 /,
  // The whole of it comes from elsewhere.
  /^(X1( X1)?|X1, or say planned: true)$/,
]

/** Sentences whose parts are chosen as they are made, as they come out. */
const COMPOSED = new Map([
  ['X1 is far below the X1 last known; X1', ['1.2 g is far below the 900 g last known; did you mean 1.2 kg (1200 g)?']],
  [
    'X1 is far above the X1 expected; X1',
    ['9e5 g is far above the 900 g expected; did you mean 900 g rather than kilograms?'],
  ],
  [
    'heavier by X1 than X1: was the anode replaced? Log the replacement, or confirm',
    [
      'heavier by 40 g than when it was fitted: was the anode replaced? Log the replacement, or confirm',
      'heavier by 40 g than on 2031-04-01: was the anode replaced? Log the replacement, or confirm',
    ],
  ],
  [
    'another stay, X1, begins on X1: change it first, or leave relaunch out',
    [
      'another stay, ashore, begins on 2031-04-01: change it first, or leave relaunch out',
      'another stay, at berth B 4, begins on 2031-04-01: change it first, or leave relaunch out',
    ],
  ],
  ['fitted on X1, but X1', ['fitted on 2031-04-01, but it was weighed on 2031-03-01: correct that weighing first']],
  ['removed on X1, but X1', ['removed on 2031-02-01, but it was weighed on 2031-03-01: correct that weighing first']],
])
const told = sentences.flatMap((text) => COMPOSED.get(text) ?? [text])

describe('what the service finds wrong with a field', () => {
  it('finds the sentences that stand in the sources', () => {
    expect(sentences.length).toBeGreaterThan(30)
  })

  it.each(['de-DE', 'fr-FR', 'es-ES'])('is said in the language of the reader, %s', async (language) => {
    const say = await readerOf(language)
    const unsaid = told.filter((text) => say(text) === text && !OF_PROGRAMS.some((form) => form.test(text)))
    expect(unsaid).toEqual([])
  })

  it('keeps figures and names', async () => {
    const anode = {
      fittedOn: '2030-04-01',
      removedOn: null,
      grossMassG: 1200,
      coreMassG: 90,
      lengthMm: null,
      widthMm: null,
      heightMm: null,
    }
    const weighing = {
      weighedOn: '2031-04-01',
      method: 'scale' as const,
      massG: 1.2,
      wastedPercent: null,
      resolutionG: null,
      submergedMassG: null,
      cleaned: null,
      lengthMm: null,
      widthMm: null,
      heightMm: null,
    }
    const [doubt] = judgeWeighing({ anode, weighing, previous: null, next: null, today: '2031-04-02' } as never)
    const say = await readerOf('de-DE')
    expect(say(doubt!.detail)).toBe('1.2 g liegt weit unter den zuletzt bekannten 1200 g; meinten Sie 1.2 kg (1200 g)?')
  })

  it('calls a field by the name that people use, in English too', async () => {
    expect((await readerOf('en-GB'))('grossMassG must be at least 1')).toBe('the gross mass must be at least 1')
    expect((await readerOf('de-DE'))('grossMassG must be at least 1')).toBe('Mindestens 1: die Bruttomasse')
    expect((await readerOf('de-DE'))('weighings (number 2) must be a number')).toBe(
      'Eine Zahl gehört hierher: weighings (number 2)',
    )
  })

  it('is left as the service says it where it is not known', async () => {
    expect((await readerOf('fr-FR'))('the moon is full')).toBe('the moon is full')
  })

  it('stands for the whole where that only repeats it', async () => {
    vi.stubGlobal('navigator', { languages: ['es-ES'] })
    const errors = [
      { pointer: '#/boat', detail: 'there is no boat Loon' },
      { pointer: '#/name', detail: 'name is missing' },
    ]
    const body = { detail: errors.map(({ detail }) => detail).join('; '), errors }
    vi.stubGlobal('fetch', async () => new Response(JSON.stringify(body), { status: 422 }))
    const problem = await read(z.unknown(), '/v1/any').catch((error: unknown) => error as ServiceProblem)
    expect(problem).toBeInstanceOf(ServiceProblem)
    expect((problem as ServiceProblem).message).toBe('No hay ningún barco Loon. Falta el nombre.')
    expect((problem as ServiceProblem).fields.map(({ detail }) => detail)).toEqual([
      'No hay ningún barco Loon.',
      'Falta el nombre.',
    ])
  })

  it('covers what a name may be', async () => {
    const say = await readerOf('de-DE')
    const found = ['.', 'a\u0007', '8a1f6a7e-5d0c-4a8e-9c58-1b1f0a7ce0aa'].flatMap(
      (name) => Name.safeParse(name).error?.issues.map(({ message }) => `name ${message}`) ?? [],
    )
    expect(found.length).toBeGreaterThan(2)
    for (const detail of found) expect(say(detail)).not.toBe(detail)
  })

  it('has no form that another before it always takes', async () => {
    const say = await readerOf('en-GB')
    const forms = Object.entries(english).filter(([key]) => key.startsWith('said.'))
    const swallowed = forms.filter(([, form]) => {
      const filled = form.replaceAll(/\{\{(\w+)\}\}/g, 'X1')
      return say(filled) !== filled
    })
    expect(swallowed).toEqual([])
  })
})
