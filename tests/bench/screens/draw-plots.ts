import react from '@vitejs/plugin-react'
import type { Browser } from 'playwright-core'
import { build, type Rollup } from 'vite'
import { DESK } from '../../end-to-end/browser.js'
import { sayTimes } from './say-times.js'

const POINTS = [10, 40, 160]
const TIMES = 60
/** Common practice of browsers' own tools: a slow phone. */
const SLOWER = [1, 4]
/** Wanted of 40 points: one frame at 60 Hz [ms]. */
const FRAME_MS = 16

/** The plot of an anode drawn anew again and again, in a page of its own, without the service. */
export async function drawPlots(browser: Browser): Promise<void> {
  const script = await bundle()
  const page = await browser.newPage({ viewport: DESK })
  page.on('pageerror', (error) => console.error(error.message))
  await page.setContent('<!doctype html><div id="app" style="width: 760px"></div>')
  await page.addScriptTag({ content: script, type: 'module' })
  await page.waitForFunction(() => 'drawPlots' in window)
  const devTools = await page.context().newCDPSession(page)
  for (const rate of SLOWER) {
    await devTools.send('Emulation.setCPUThrottlingRate', { rate })
    for (const points of POINTS) {
      const took = await page.evaluate(([most, times]) => window.drawPlots(most, times), [points, TIMES] as const)
      console.log(`a plot of ${points} points, CPU ${rate}× slower: ${sayTimes(took, FRAME_MS)}`)
    }
  }
  await page.close()
}

async function bundle(): Promise<string> {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    root: import.meta.dirname,
    plugins: [react()],
    define: { 'process.env.NODE_ENV': '"production"' },
    build: { write: false, rollupOptions: { input: `${import.meta.dirname}/plot-page.tsx` } },
  })
  const { output } = built as Rollup.RollupOutput
  const entry = output.find((one) => one.type === 'chunk' && one.isEntry)
  if (entry?.type !== 'chunk') throw new Error('the page of the plot was not built')
  return entry.code
}
