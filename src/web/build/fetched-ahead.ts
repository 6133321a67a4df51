import type { Plugin, Rollup } from 'vite'

type Chunk = Rollup.OutputChunk & { viteMetadata?: { importedCss: ReadonlySet<string> } }

const PAGE = 'index.html'
/** The start page of all addresses below /lift. */
export const LIFT_PAGE = 'lift.html'
const LIFT_LIST = /\/pages\/lift\/list-page\.tsx$/
/** Who is signed in: the lift's frame asks first of all. */
const WHO = '/v1/me'

/**
 * Gives the lift a start page of its own, which names what its list will load anyway: a browser fetches all of it at
 * once, else it would learn of each file from the one before, a round trip each.
 */
export function fetchedAhead(): Plugin {
  return {
    name: 'fetched-ahead',
    apply: 'build',
    generateBundle: {
      order: 'post',
      handler(_options, bundle) {
        const page = bundle[PAGE]
        if (page?.type !== 'asset') throw new Error('the start page was not built')
        const html = String(page.source)
        const list = Object.values(bundle).find((output) => output.type === 'chunk' && holdsTheList(output))
        if (!list) throw new Error('the list at the lift was not built')
        const files = filesOf(bundle, list.fileName).filter((file) => !html.includes(`"/${file}"`))
        const who = `<link rel="preload" as="fetch" crossorigin href="${WHO}">`
        const source = html.replace(
          '</head>',
          `${[...files.map(link), who].map((each) => `  ${each}\n  `).join('')}</head>`,
        )
        this.emitFile({ type: 'asset', fileName: LIFT_PAGE, source })
      },
    },
  }
}

const holdsTheList = ({ moduleIds }: Rollup.OutputChunk) => moduleIds.some((id) => LIFT_LIST.test(id))

/** A script, all that it imports from the start, and the styles of these. */
function filesOf(bundle: Rollup.OutputBundle, wanted: string): string[] {
  const files = new Set<string>()
  const take = (fileName: string) => {
    const chunk = bundle[fileName]
    if (files.has(fileName) || chunk?.type !== 'chunk') return
    files.add(fileName)
    for (const each of chunk.imports) take(each)
    for (const css of (chunk as Chunk).viteMetadata?.importedCss ?? []) files.add(css)
  }
  take(wanted)
  return [...files]
}

function attributesOf(file: string): Record<string, string | true> {
  const rel = file.endsWith('.css') ? 'stylesheet' : 'modulepreload'
  return { rel, crossorigin: true, href: `/${file}` }
}

function link(file: string): string {
  const attributes = Object.entries(attributesOf(file)).map(([name, value]) =>
    value === true ? name : `${name}="${value}"`,
  )
  return `<link ${attributes.join(' ')}>`
}
