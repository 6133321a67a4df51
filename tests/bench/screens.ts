import { launchBrowser } from '../end-to-end/browser.js'
import { drawPlots } from './screens/draw-plots.js'
import { scrollFleet } from './screens/scroll-fleet.js'

/** How smoothly plots are drawn and a large fleet is scrolled, in Chromium. Needs `npm run build`. */
export async function run(): Promise<void> {
  const browser = await launchBrowser()
  try {
    await drawPlots(browser)
    await scrollFleet(browser)
  } finally {
    await browser.close()
  }
}
