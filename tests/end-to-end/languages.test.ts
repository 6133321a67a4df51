import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { FindingDetail, FindingPage } from '../../src/contract/findings.js'
import { GalvanicAuditView } from '../../src/contract/galvanic.js'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE } from './browser.js'
import { englishIn } from './english-phrases.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 240_000
const TODAY = new Date().toISOString().slice(0, 10)
/** Pages of findings that are looked at. */
const FINDINGS = 4

describe.skipIf(!isBrowserWanted)('pages of metals and findings', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService
  let audit: GalvanicAuditView
  let findings: FindingDetail[]

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
    audit = await richestAudit()
    findings = await someFindings()
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  /** The boat of whose metals there is most to tell. */
  async function richestAudit(): Promise<GalvanicAuditView> {
    const { items } = (await service.get('/v1/boats?limit=200')) as { items: { name: string }[] }
    const audits = await Promise.all(
      items.map(async ({ name }) =>
        GalvanicAuditView.parse(await service.get(`/v1/boats/${encodeURIComponent(name)}/galvanic-audit`)),
      ),
    )
    const size = ({ pairs, notes, questions, potentials }: GalvanicAuditView) =>
      pairs.length + notes.length + questions.length + potentials.length
    return audits.reduce((most, each) => (size(each) > size(most) ? each : most))
  }

  /** Those that ask about the record first. */
  async function someFindings(): Promise<FindingDetail[]> {
    const { items } = FindingPage.parse(await service.get('/v1/findings?state=unsettled&limit=1000'))
    const chosen = items.toSorted((a, b) => b.asked.length - a.asked.length).slice(0, FINDINGS)
    return Promise.all(chosen.map(async ({ id }) => FindingDetail.parse(await service.get(`/v1/findings/${id}`))))
  }

  async function enter(locale: string, viewport: { width: number; height: number }) {
    const watched = await openPage(browser, viewport, locale)
    const signedIn = await watched.page.context().request.post(`${service.address}/v1/demo/look-as`, {
      headers: { origin: service.address },
      data: { role: 'staff' },
    })
    expect(signedIn.status(), await signedIn.text()).toBeLessThan(300)
    return watched
  }

  /** Each page with what has to be there before it is read. */
  const pages = (): [path: string, ready: string][] => [
    ['/galvanic', '.pair'],
    [`/boats/${encodeURIComponent(audit.boat)}/galvanic`, '.series-bars rect'],
    [`/boats/${encodeURIComponent(audit.boat)}`, '#potentials'],
    ...findings.map(({ id }): [string, string] => [`/findings/${id}`, '.causes-panel']),
  ]

  /** Every sentence of reasons, evidence and questions as programs are told it. */
  function servicesEnglish(): string[] {
    const ofAudit = [...audit.pairs, ...audit.protection, ...audit.overprotection, ...audit.potentials]
    const ofFindings = findings.flatMap(({ causes, questions }) => [
      ...causes.flatMap(({ evidence }) => evidence.map(({ what }) => what)),
      ...questions,
    ])
    const asked = audit.questions.map(({ question }) => question)
    return [...new Set([...ofAudit.map(({ reason }) => reason), ...asked, ...ofFindings])]
  }

  async function readPages(locale: string, viewport: { width: number; height: number }) {
    const { page, complaints, close } = await enter(locale, viewport)
    const found: Record<string, string[]> = {}
    for (const [path, ready] of pages()) {
      await page.goto(service.address + path)
      await page.locator(ready).first().waitFor()
      const text = await textOf(page)
      found[path] = [
        ...englishIn(text),
        ...englishIn(text, servicesEnglish()),
        ...(await tooWide(page, viewport.width)),
      ]
    }
    expect(complaints).toEqual([])
    await close()
    return found
  }

  it.each([
    ['de-DE', PHONE],
    ['de-DE', DESK],
    ['fr-FR', PHONE],
    ['es-ES', PHONE],
  ] as const)('speak no English in %s at %o', async (locale, viewport) => {
    const found = await readPages(locale, viewport)
    expect(found).toEqual(Object.fromEntries(pages().map(([path]) => [path, []])))
  })

  // Or the test above would find nothing whatever the pages say.
  it('speak it in English, where every sentence of a reason and of the evidence is to be found', async () => {
    const found = await readPages('en-GB', DESK)
    const whole = Object.values(found).flat()
    const [first] = findings
    const [likeliest] = first!.causes
    for (const { what } of likeliest!.evidence) expect(whole).toContain(what)
    for (const { reason } of audit.pairs) expect(whole).toContain(reason)
    for (const question of first!.questions) expect(whole).toContain(question)
  })
})

/** All that a page says, folded or not, but for titles of works that are in English. */
function textOf(page: Page): Promise<string> {
  return page.evaluate(() => {
    const main = document.querySelector('main')!.cloneNode(true) as HTMLElement
    for (const foreign of main.querySelectorAll('[lang="en"]')) foreign.remove()
    const labels = [...main.querySelectorAll('[aria-label]')].map((element) => element.getAttribute('aria-label'))
    return [document.title, main.textContent, ...labels].join('\n')
  })
}

async function tooWide(page: Page, width: number): Promise<string[]> {
  const scrolled = await page.evaluate(() => document.documentElement.scrollWidth)
  return scrolled > width ? [`the page is ${scrolled} px wide`] : []
}
