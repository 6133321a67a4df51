import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { appFiles, packedFiles } from './offline/app-files.js'

/** Where `vite` sends requests for data while the pages are developed; the built pages are served by the service. */
const SERVICE = process.env.SERVICE_URL ?? 'http://127.0.0.1:3000'

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
      output: { entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js') },
    },
  },
  server: { proxy: { '/v1': SERVICE } },
})
