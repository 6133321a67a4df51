import type { Browser } from 'playwright-core'
import { DeskBoatPage } from '../../../src/contract/desk.js'
import { DESK } from '../../end-to-end/browser.js'
import { startDemo } from '../../process/running-demo.js'
import { sayTimes } from './say-times.js'

const BOATS = 2000
const SLOWER = [1, 4]
const STEPS = 120
const STEP_PX = 400
/** Two frames at 60 Hz: a longer one is seen as a jerk. */
const SEEN_MS = 34
const LOADED_WITHIN_MS = 120_000

/** The desk's list of 2,000 boats, the demo's own again and again under other names, scrolled by a wheel from top to far down. */
export async function scrollFleet(browser: Browser): Promise<void> {
  const demo = await startDemo()
  try {
    const context = await browser.newContext({ viewport: DESK, locale: 'en-GB', serviceWorkers: 'block' })
    const origin = { origin: demo.address }
    await context.request.post(`${demo.address}/v1/demo/look-as`, { data: { role: 'manager' }, headers: origin })
    const own = DeskBoatPage.parse(await (await context.request.get(`${demo.address}/v1/desk/boats?limit=200`)).json())
    const items = Array.from({ length: BOATS }, (_, index) => {
      const boat = own.items[index % own.items.length]!
      return { ...boat, boat: `${boat.boat} ${index}` }
    })
    const many = { ...own, items, total: BOATS, boats: BOATS, nextCursor: null }
    const page = await context.newPage()
    await page.route('**/v1/desk/boats?*', (route) => route.fulfill({ json: many }))
    await page.goto(`${demo.address}/desk`)
    await page.getByRole('link', { name: items[0]!.boat, exact: true }).waitFor({ timeout: LOADED_WITHIN_MS })
    const devTools = await context.newCDPSession(page)
    for (const rate of SLOWER) {
      await devTools.send('Emulation.setCPUThrottlingRate', { rate })
      const frames = page.evaluate(async (steps) => {
        const times: number[] = []
        let before = performance.now()
        for (let frame = 0; frame < steps; frame++) {
          await new Promise((drawn) => requestAnimationFrame(drawn))
          const now = performance.now()
          times.push(now - before)
          before = now
        }
        return times
      }, STEPS)
      await page.mouse.move(DESK.width / 2, DESK.height / 2)
      let isOver = false
      void frames.then(() => {
        isOver = true
      })
      while (!isOver) await page.mouse.wheel(0, STEP_PX)
      const rows = await page.getByRole('listitem').count()
      console.log(
        `${BOATS} boats scrolled, CPU ${rate}× slower, ${rows} rows in the page: frames ${sayTimes(await frames, SEEN_MS)}`,
      )
    }
    await context.close()
  } finally {
    await demo.stop()
  }
}
