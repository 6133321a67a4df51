import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import sharp from 'sharp'
import { PROJECT_ROOT } from '../../src/project-root.js'
import { DESK, launchBrowser, PHONE } from '../end-to-end/browser.js'
import { startDemo } from '../process/running-demo.js'
import { type Picture, picturesOf } from './pages.js'

/** `npm run pictures [-- NAME …]`: starts the demo on data of its own and writes a picture of each page, or of those named, to docs/pictures. */
const FOLDER = join(PROJECT_ROOT, 'docs', 'pictures')
const PAGE_LIMIT_MS = 30_000
const QUALITY = 70
/** Larger pictures would make the repository heavy; they are packed harder. */
const LARGEST_BYTES = 60_000

async function takePictures(): Promise<void> {
  const demo = await startDemo()
  const browser = await launchBrowser()
  try {
    mkdirSync(FOLDER, { recursive: true })
    const pictures = await picturesOf(demo.address)
    const wanted = process.argv.slice(2)
    for (const picture of pictures)
      if (wanted.length === 0 || wanted.includes(picture.name)) await take(browser, demo.address, picture)
  } finally {
    await browser.close()
    await demo.stop()
  }
}

async function take(browser: Browser, address: string, { name, path, ready, role, sides }: Picture): Promise<void> {
  for (const { side, dark } of sides) {
    const viewport = side === 'phone' ? PHONE : DESK
    const context = await browser.newContext({
      viewport,
      locale: 'en-GB',
      colorScheme: dark ? 'dark' : 'light',
      reducedMotion: 'reduce',
      serviceWorkers: 'block',
    })
    context.setDefaultTimeout(PAGE_LIMIT_MS)
    const page = await context.newPage()
    if (role) await context.request.post(`${address}/v1/demo/look-as`, { data: { role }, headers: { origin: address } })
    await page.goto(address + path)
    await page.locator(ready).first().waitFor()
    await page.waitForLoadState('networkidle')
    const file = `${name}-${side}${dark ? '-dark' : ''}.webp`
    console.log(`${file}: ${await write(await page.screenshot(), join(FOLDER, file))} bytes`)
    await context.close()
  }
}

async function write(png: Buffer, file: string): Promise<number> {
  for (let quality = QUALITY; ; quality -= 15) {
    const { size } = await sharp(png).webp({ quality, effort: 6 }).toFile(file)
    if (size < LARGEST_BYTES || quality <= 25) return size
  }
}

await takePictures()
