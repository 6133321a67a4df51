import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

/** Where `vite` sends requests for data while the pages are developed; the built pages are served by the service. */
const SERVICE = process.env.SERVICE_URL ?? 'http://127.0.0.1:3000'

export default defineConfig({
  root: import.meta.dirname,
  plugins: [react()],
  build: {
    outDir: '../../dist/web',
    emptyOutDir: true,
    // The service's content security policy allows no data: fonts or scripts; small files stay files.
    assetsInlineLimit: 0,
  },
  server: { proxy: { '/v1': SERVICE } },
})
