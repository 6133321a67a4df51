import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { type Browser, type ConsoleMessage, chromium, type Page } from 'playwright-core'

const PLACES = [process.env.CHROMIUM_PATH, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]
export const PHONE = { width: 390, height: 844 } as const
export const DESK = { width: 1280, height: 900 } as const

/** A browser of this machine; without one the tests are skipped, and with REQUIRE_BROWSER=1 they fail. */
export const browserPath = PLACES.find((path) => path !== undefined && existsSync(path))
export const isBrowserWanted = browserPath !== undefined || process.env.REQUIRE_BROWSER === '1'

/** @param flags what a test needs beside the usual, such as a camera that plays a file */
export function launchBrowser(flags: readonly string[] = []): Promise<Browser> {
  if (browserPath === undefined) {
    throw new Error('no Chromium was found: install it, or name it in CHROMIUM_PATH')
  }
  return chromium.launch({ executablePath: browserPath, args: [...FLAGS, ...flags] })
}

/** A page of its own, and all that its browser complained of: errors of scripts, of loading, of the security policy. */
export interface WatchedPage {
  readonly page: Page
  readonly complaints: string[]
  close(): Promise<void>
}

export async function openPage(
  browser: Browser,
  viewport: { width: number; height: number },
  locale = 'en-GB',
): Promise<WatchedPage> {
  // Without the service worker: what it answers, nobody can look into from outside. Phones of the lift's tests have it.
  const serviceWorkers = 'block'
  const context = await browser.newContext({
    viewport,
    hasTouch: viewport.width < 600,
    locale,
    serviceWorkers,
  })
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('pageerror', (error) => complaints.push(error.message))
  page.on('console', (message) => {
    if (message.type() === 'error' && !isNobodyYet(message))
      complaints.push(`${message.text()} ${message.location().url}`)
  })
  await tightenPolicy(page)
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) =>
      console.error(`policy violated: ${event.violatedDirective} ${event.blockedURI}`),
    )
  })
  return { page, complaints, close: () => context.close() }
}

/** Before signing in the app asks who is there, and is told that nobody is. */
function isNobodyYet(message: ConsoleMessage): boolean {
  return message.text().includes('401') && message.location().url.endsWith('/v1/me')
}

/** The service's policy allows inline style for the page of the API; the app is held to do without. */
async function tightenPolicy(page: Page): Promise<void> {
  await page.route('**/*', async (route) => {
    if (route.request().resourceType() !== 'document') return route.continue()
    const response = await route.fetch()
    const headers = response.headers()
    const policy = headers['content-security-policy']?.replaceAll(" 'unsafe-inline'", '')
    return route.fulfill({ response, headers: { ...headers, ...(policy && { 'content-security-policy': policy }) } })
  })
}

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

interface AxeWindow {
  axe: { run(): Promise<{ violations: { id: string; impact: string | null; nodes: { html: string }[] }[] }> }
}

/** What axe-core holds to be serious or critical about the page as it stands, one line a place. */
export async function seriousViolations(page: Page): Promise<string[]> {
  await page.evaluate(AXE)
  const { violations } = await page.evaluate(() => (globalThis as unknown as AxeWindow).axe.run())
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`))
}
