import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { appFiles } from './build/app-files.js'
import { fetchedAhead } from './build/fetched-ahead.js'
import { leaveOutNotes } from './build/leave-out-notes.js'
import { packedFiles } from './build/packed-files.js'

/** Where `vite` sends requests for data while the pages are developed; the built pages are served by the service. */
const SERVICE = process.env.SERVICE_URL ?? 'http://127.0.0.1:3000'

/** What nearly every page begins with, the lift's too. */
const FIRST_OF_ALL =
  /src\/(contract\/(grams|vocabulary)|engine\/(diagnosis\/causes|reference\/vocabulary)|messages\/languages|presentation\/calendar|web\/(api\/problem|offline\/service-clock|wording\/(days|amounts|locale|spoken)|i18n\/(preferences|wanted|start-words)))\.ts$/
/** What the service's answers are read by; the lift's list stands before it has come. */
const ANSWERS =
  /node_modules\/zod\/|src\/(contract\/(haul-outs|anodes|mass|names|weighings|jobs|paging|boats|forecasts|organisations)|web\/api\/(http|problem-document|zod))\.ts$/

const here = (path: string) => `${import.meta.dirname}/${path}`

export default defineConfig({
  root: import.meta.dirname,
  plugins: [
    react(),
    leaveOutNotes(),
    appFiles({ plain: here('icon.svg'), whole: here('icon-whole.svg') }),
    fetchedAhead(),
    packedFiles(),
  ],
  // Exactly this name: what lies below it is the package's own.
  resolve: { alias: [{ find: /^zod$/, replacement: here('api/zod.ts') }] },
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
            { name: 'first', test: FIRST_OF_ALL, priority: 1 },
            { name: 'answers', test: ANSWERS },
          ],
        },
      },
    },
  },
  server: { proxy: { '/v1': SERVICE } },
})
