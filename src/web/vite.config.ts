import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { appFiles, packedFiles } from './offline/app-files.js'

/** Where `vite` sends requests for data while the pages are developed; the built pages are served by the service. */
const SERVICE = process.env.SERVICE_URL ?? 'http://127.0.0.1:3000'

/** Read by every page, the lift's too. */
const FIRST_OF_ALL =
  /src\/(contract\/(haul-outs|anodes|mass|names|weighings|jobs|paging|boats|forecasts|organisations)|web\/(api\/(http|problem)|wording\/(days|amounts|locale|spoken)|i18n\/(preferences|wanted|start-words)))\.ts$/

const here = (path: string) => `${import.meta.dirname}/${path}`

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react(), appFiles({ plain: here('icon.svg'), whole: here('icon-whole.svg') }), packedFiles()],
  build: {
    outDir: '../../dist/web',
    emptyOutDir: true,
    // The service's content security policy allows no data: fonts or scripts; small files stay files.
    assetsInlineLimit: 0,
    rolldownOptions: {
      input: { app: here('index.html'), sw: here('offline/sw.ts') },
      // A service worker is known by its address, and reaches only what lies below it.
      output: {
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
        // What every page begins with, in one file: in twenty small ones it compresses worse, by kilobytes at the lift.
        codeSplitting: {
          groups: [
            // Apart: it is told how to work before any schema is built (main.ts).
            { name: 'zod', test: /node_modules\/zod\//, priority: 1 },
            // What begins the pages uses this: in one file with schemas it would build them before zod is told.
            { name: 'loader', test: /vite\/preload-helper|rolldown\/runtime/, priority: 2 },
            { name: 'record', test: FIRST_OF_ALL },
          ],
        },
      },
    },
  },
  server: { proxy: { '/v1': SERVICE } },
})
