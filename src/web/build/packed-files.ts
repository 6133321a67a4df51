import { promisify } from 'node:util'
import { brotliCompress, gzip } from 'node:zlib'
import type { Plugin } from 'vite'

/** Smaller files are one packet as they are. */
const PACKED_FROM_BYTES = 1400
const PACKED = /\.(js|css|html|svg|webmanifest)$/
/** Browsers take Brotli over HTTPS alone; over plain HTTP there is gzip. Both at their hardest. */
const PACKERS = { '.br': promisify(brotliCompress), '.gz': (bytes: Uint8Array) => promisify(gzip)(bytes, { level: 9 }) }

/** Packs each text of the build once, beside it: the service hands out what was packed, and packs nothing itself. */
export function packedFiles(): Plugin {
  return {
    name: 'packed-files',
    apply: 'build',
    generateBundle: {
      order: 'post',
      async handler(_options, bundle) {
        for (const output of Object.values(bundle)) {
          if (!PACKED.test(output.fileName)) continue
          const source = output.type === 'chunk' ? output.code : output.source
          const bytes = typeof source === 'string' ? new TextEncoder().encode(source) : new Uint8Array(source)
          if (bytes.length < PACKED_FROM_BYTES) continue
          for (const [ending, pack] of Object.entries(PACKERS)) {
            this.emitFile({ type: 'asset', fileName: output.fileName + ending, source: await pack(bytes) })
          }
        }
      },
    },
  }
}
