import sharp from 'sharp'
import type { Plugin, Rollup } from 'vite'
import { LIFT_PAGE } from './fetched-ahead.js'

type Chunk = Rollup.OutputChunk & { viteMetadata?: { importedCss: ReadonlySet<string> } }

/** What a phone needs at the lift, by where its source lies; the rest is kept as it is used. */
const WANTED = /\/(pages\/lift\/|offline\/(start|held)\.|messages\/\w+\/(lift|words)\.json|node_modules\/qr\/)/
const WORKER = 'sw.js'
const ICON_SIDES = [192, 512] as const
/** Side of the icon that iOS takes [px]. */
const TOUCH_ICON_SIDE = 180

const MANIFEST = {
  name: 'Anode Ledger',
  short_name: 'Anodes',
  description: 'Anodes of the fleet, logged at the lift',
  id: '/lift',
  start_url: '/lift',
  scope: '/',
  display: 'standalone',
  background_color: '#efebe1',
  theme_color: '#12333d',
  icons: [
    ...ICON_SIDES.map((side) => ({ src: `/icon-${side}.png`, sizes: `${side}x${side}`, type: 'image/png' })),
    { src: '/icon-whole-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
  ],
  shortcuts: [
    { name: 'At the lift', url: '/lift' },
    { name: 'Outbox', url: '/lift/outbox' },
  ],
}

/**
 * Makes the built app installable: manifest, icons drawn from the project's own SVG, and a service worker that knows the
 * files of this build by name.
 *
 * @param icons paths of the drawings: with round corners, and one that fills its square
 */
export function appFiles(icons: { readonly plain: string; readonly whole: string }): Plugin {
  return {
    name: 'app-files',
    apply: 'build',
    transformIndexHtml: () => [
      { tag: 'link', attrs: { rel: 'manifest', href: '/manifest.webmanifest' }, injectTo: 'head' },
      { tag: 'link', attrs: { rel: 'apple-touch-icon', href: '/icon-touch.png' }, injectTo: 'head' },
    ],
    async generateBundle(_options, bundle) {
      const emit = (fileName: string, source: string | Uint8Array) => this.emitFile({ type: 'asset', fileName, source })
      emit('manifest.webmanifest', JSON.stringify(MANIFEST))
      for (const side of ICON_SIDES) emit(`icon-${side}.png`, await drawn(icons.plain, side))
      emit('icon-whole-512.png', await drawn(icons.whole, 512))
      emit('icon-touch.png', await drawn(icons.whole, TOUCH_ICON_SIDE))
      const worker = bundle[WORKER]
      if (worker?.type !== 'chunk') throw new Error('the service worker was not built')
      const kept = ['/index.html', `/${LIFT_PAGE}`, '/manifest.webmanifest', ...keptFiles(bundle)]
      worker.code = worker.code
        .replaceAll('__KEPT_FILES__', JSON.stringify(kept))
        .replaceAll('__BUILD__', JSON.stringify(nameOf(kept)))
    },
  }
}

function drawn(icon: string, side: number): Promise<Buffer> {
  return sharp(icon, { density: 72 * (side / 32) })
    .resize(side, side)
    .png()
    .toBuffer()
}

/** Files of the lift's pages and all that these load, in a fixed order. */
function keptFiles(bundle: Rollup.OutputBundle): string[] {
  const kept = new Set<string>()
  const keep = (fileName: string) => {
    const chunk = bundle[fileName]
    if (kept.has(fileName) || chunk?.type !== 'chunk') return
    kept.add(fileName)
    for (const css of (chunk as Chunk).viteMetadata?.importedCss ?? []) kept.add(css)
    for (const each of chunk.imports) keep(each)
  }
  for (const output of Object.values(bundle)) {
    if (output.type !== 'chunk' || output.fileName === WORKER) continue
    if (output.isEntry || output.moduleIds.some((id) => WANTED.test(id))) keep(output.fileName)
  }
  return [...kept].toSorted().map((fileName) => `/${fileName}`)
}

/** Names hold a hash of what is in them, so that together they name the build (FNV-1a, 32 bits). */
function nameOf(kept: readonly string[]): string {
  let hash = 0x811c9dc5
  for (const character of kept.join('\n')) hash = Math.imul(hash ^ (character.codePointAt(0) ?? 0), 0x01000193)
  return (hash >>> 0).toString(16)
}
