import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative, sep } from 'node:path'
import { describe, expect, it } from 'vitest'
import { PROJECT_ROOT } from '../src/project-root.js'

const SOURCE = join(PROJECT_ROOT, 'src')
const MOST_LINES = 300
const NAMES_OF_NOTHING = /^(utils?|helpers?|common|tools?|misc)(\.|$)/

interface SourceFile {
  /** From `src`, with forward slashes. */
  readonly path: string
  readonly text: string
}

interface Layer {
  /** What of `src` it may import beside itself. */
  readonly layers: readonly string[]
  /** What of `node_modules` and of Node it may import; undefined: anything. */
  readonly packages?: RegExp
  readonly never?: RegExp
}

const LAYERS: Readonly<Record<string, Layer>> = {
  // Pure numbers: no input or output, no clock, no chance, no framework.
  engine: {
    layers: [],
    packages: /^(simple-statistics|ml-matrix|@stdlib\/.+)$/,
    never: /\bDate\.now|\bnew Date\(\)|\bMath\.random|\bprocess\.|\bconsole\./,
  },
  contract: { layers: ['engine', 'messages'], packages: /^zod$/, never: /\bDate\.now|\bMath\.random|\bprocess\./ },
  // Files of words, and which languages there are: whoever speaks to people may read them.
  messages: { layers: [], packages: /^$/ },
  // How the service is watched: whoever does something may say so, whatever layer it is of.
  telemetry: { layers: [], packages: /^(node:async_hooks|@opentelemetry\/.+|prom-client)$/ },
  db: { layers: ['engine', 'contract', 'messages', 'project-root', 'telemetry'] },
  // What screen and paper show alike, made of the service's answers.
  presentation: { layers: ['engine', 'contract'], packages: /^$/, never: /\bDate\.now|\bMath\.random|\bprocess\./ },
  outside: { layers: ['contract', 'presentation', 'project-root', 'messages', 'telemetry'] },
  // HTTP is not theirs, nor a framework that serves it.
  services: {
    layers: ['engine', 'contract', 'presentation', 'db', 'outside', 'messages', 'telemetry'],
    packages: /^(?!@?fastify|vite|react|pg-boss)/,
  },
  jobs: { layers: ['engine', 'contract', 'db', 'services', 'telemetry'] },
  http: { layers: ['engine', 'contract', 'db', 'services', 'telemetry'] },
  web: {
    layers: ['engine', 'contract', 'presentation', 'messages'],
    packages: /^(?!node:|@?fastify|drizzle-orm|pg$|pg-boss)/,
  },
  'web/build': { layers: [] },
}

/** Only these know which status a failure has: the border of HTTP, and no other layer. */
const STATUS_CODES = /\bstatusCode\b|\bHttpProblem\b/

/** Who works across organisations, and on what; everybody else works for one at a time. */
const ACROSS: Readonly<Record<string, string>> = {
  'services/access/sign-in.ts': 'people, their links and sessions',
  'services/access/sessions.ts': "a person's sessions",
  'services/access/preferences.ts': "a person's preferences",
  'services/access/passkeys.ts': "a person's passkeys, and whose a passkey is",
  'services/access/memberships.ts': 'where an address belongs',
  'services/access/api-keys.ts': 'where a key belongs',
  'services/access/attempts.ts': 'how often somebody without a name tried',
  'services/access/idempotency.ts': 'keys that are old',
  'services/access/set-up.ts': 'the first organisation',
  'services/access/demo-people.ts': "the demo's one organisation",
  'services/calendar/calendar-feed-service.ts': 'where a link belongs',
  'services/jobs/job-service.ts': 'jobs that lost their process',
  'services/notices/notice-decider.ts': 'who has reminders switched on',
  'services/notices/notice-sender.ts': 'letters that are due',
  'services/push/push-service.ts': "a person's devices",
  'services/webhooks/deliverer.ts': 'deliveries that are due or old',
  'services/watching/figures.ts': 'how much waits',
  'services/watching/status-service.ts': 'whether an organisation is alone',
  'jobs/background.ts': "every organisation's nightly refit",
  'commands/choose-organisation.ts': 'the organisation by its name',
}
/** They hand the handles on. */
const BUILDERS = ['services/build-services.ts', 'main.ts', 'commands/import.ts']

const files = readdirSync(SOURCE, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => relative(SOURCE, join(entry.parentPath, entry.name)).split(sep).join('/'))
const sources: readonly SourceFile[] = files
  .filter((path) => /\.(ts|tsx|css|html)$/.test(path))
  .map((path) => ({ path, text: readFileSync(join(SOURCE, path), 'utf8') }))

/** How the pages are built is not what runs in a browser. */
const BUILD_OF_PAGES = /^web\/(build\/|vite\.config)/

function layerOf(path: string): string {
  return BUILD_OF_PAGES.test(path) ? 'web/build' : path.split('/')[0]!.replace(/\.[jt]s$/, '')
}

const filesOf = (layer: string) => sources.filter(({ path }) => layerOf(path) === layer && /\.tsx?$/.test(path))

function importsOf({ text }: SourceFile): string[] {
  return [...text.matchAll(/\b(?:from|import)\s*\(?\s*'([\w@./:-]+)'/g)].map(([, specifier]) => specifier!)
}

/** The layer that a relative import leads to; undefined for a package. */
function importedLayer(file: SourceFile, specifier: string): string | undefined {
  if (!specifier.startsWith('.')) return undefined
  return layerOf(
    relative(SOURCE, join(SOURCE, dirname(file.path), specifier))
      .split(sep)
      .join('/'),
  )
}

/** Each import of a file that its layer must not have, and each word. */
function trespasses(file: SourceFile, name: string, { layers, packages, never }: Layer): string[] {
  const imports = importsOf(file).filter((specifier) => {
    const layer = importedLayer(file, specifier)
    if (layer === undefined) return packages !== undefined && !packages.test(specifier)
    return layer !== name && !layers.includes(layer)
  })
  const words = never === undefined ? [] : (withoutComments(file.text).match(never) ?? [])
  return [...imports, ...words].map((what) => `src/${file.path}: ${what}`)
}

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|\s)\/\/.*$/gm, '')
}

describe('the direction of imports', () => {
  it.each(Object.entries(LAYERS))('src/%s uses nothing of the layers above it', (name, layer) => {
    const own = filesOf(name)
    expect(own.length).toBeGreaterThan(0)
    expect(own.flatMap((file) => trespasses(file, name, layer))).toEqual([])
  })

  it('has no page in what pages are worded by', () => {
    const wording = filesOf('web').filter(({ path }) => path.startsWith('web/wording/'))
    expect(wording.length).toBeGreaterThan(0)
    const toPages = wording.flatMap((file) => importsOf(file).filter((specifier) => specifier.includes('/pages/')))
    expect(toPages).toEqual([])
  })

  it('has no folder of src without a rule', () => {
    const folders = new Set(files.filter((path) => path.includes('/')).map((path) => path.split('/')[0]!))
    // `commands` stand beside `main.ts`: like it they build everything and may see everything.
    expect([...folders].filter((folder) => !(folder in LAYERS)).sort()).toEqual(['commands'])
  })

  it.each(['engine', 'contract', 'db', 'services', 'outside', 'jobs'])('src/%s knows no status of HTTP', (name) => {
    const knowing = filesOf(name).filter(({ text }) => STATUS_CODES.test(withoutComments(text)))
    expect(knowing.map(({ path }) => path)).toEqual([])
  })
})

describe("the database's handles", () => {
  const users = (pattern: RegExp) =>
    sources
      .filter(
        ({ path, text }) => /^(services|jobs|commands|http|main)/.test(path) && pattern.test(withoutComments(text)),
      )
      .map(({ path }) => path)

  it('reach across organisations where that is the work, and nowhere else', () => {
    expect(users(/\bacross\b/).sort()).toEqual([...Object.keys(ACROSS), ...BUILDERS].sort())
  })

  it('that nothing holds back are for migrations alone', () => {
    expect(users(/\bdatabase\.db\b|[{,]\s*db\b[^}]*\} = database\b/)).toEqual([])
  })
})

describe('the size and the names of files', () => {
  it(`has no file in src over ${MOST_LINES} lines`, () => {
    const lines = ({ text }: SourceFile) => text.trimEnd().split('\n').length
    const long = sources.filter((file) => lines(file) > MOST_LINES)
    expect(long.map((file) => `src/${file.path}: ${lines(file)} lines`)).toEqual([])
  })

  it('has no file or folder in src whose name says nothing', () => {
    expect(files.filter((path) => path.split('/').some((part) => NAMES_OF_NOTHING.test(part)))).toEqual([])
  })
})

describe('the watch itself', () => {
  // Each of these would be a hole in the wall: the watch must see it.
  const engine = LAYERS.engine!
  it.each([
    [`import { boats } from '../../db/schema/boats.js'`, '../../db/schema/boats.js'],
    [`import { readFileSync } from 'node:fs'`, 'node:fs'],
    [`const load = () => import('../../services/errors.js')`, '../../services/errors.js'],
    [`export * from '../../http/problem.js'`, '../../http/problem.js'],
    ['const seed = Math.random()', 'Math.random'],
    ['const today = new Date()', 'new Date()'],
  ])('sees %s in the engine', (text, seen) => {
    expect(trespasses({ path: 'engine/rates/made-up.ts', text }, 'engine', engine)).toEqual([
      `src/engine/rates/made-up.ts: ${seen}`,
    ])
  })

  it('sees nothing in what the engine may do', () => {
    const text = `import { median } from 'simple-statistics'\nimport { OutOfRange } from '../errors.js'\n// Math.random is not used`
    expect(trespasses({ path: 'engine/rates/made-up.ts', text }, 'engine', engine)).toEqual([])
  })
})
