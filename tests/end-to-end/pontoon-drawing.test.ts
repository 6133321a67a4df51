import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { PontoonDrawing } from '../../src/contract/pontoon-drawing.js'
import { DESK, isBrowserWanted, launchBrowser, openPage, PHONE } from './browser.js'
import { expectFit } from './expect-fit.js'
import { type RunningService, startServiceWithFleet } from './running-service.js'

if (!isBrowserWanted) console.log('browser tests are skipped: no Chromium was found (set CHROMIUM_PATH)')

const SET_UP_LIMIT_MS = 360_000
const TEST_LIMIT_MS = 240_000
const TODAY = new Date().toISOString().slice(0, 10)
/** A page that is fetched on a machine that does other work too. */
const SOON = { timeout: 60_000 }
const DRAWING = '/set-up/fleet?way=drawing'

describe.skipIf(!isBrowserWanted)('the drawing of the pontoons', { timeout: TEST_LIMIT_MS }, () => {
  let browser: Browser
  let service: RunningService

  beforeAll(async () => {
    browser = await launchBrowser()
    service = await startServiceWithFleet(TODAY)
  }, SET_UP_LIMIT_MS)

  afterAll(async () => {
    await browser?.close()
    await service?.stop()
  }, SET_UP_LIMIT_MS)

  async function openDrawing(viewport: typeof DESK | typeof PHONE) {
    const opened = await openPage(browser, viewport)
    await opened.page.request.post(`${service.address}/v1/demo/look-as`, { data: { role: 'manager' } })
    await opened.page.goto(`${service.address}${DRAWING}`)
    await opened.page.getByRole('heading', { name: 'Pontoons and their berths' }).waitFor(SOON)
    return opened
  }
  const stripOf = (page: Page, pontoon: string) => page.getByRole('region', { name: `Pontoon ${pontoon}` })
  const sideOf = (page: Page, pontoon: string, side: 'left' | 'right') =>
    stripOf(page, pontoon)
      .getByRole('list', { name: `Pontoon ${pontoon} ${side}` })
      .locator('.strip-berth:not(.strip-add)')
  const namesOf = async (page: Page, pontoon: string, side: 'left' | 'right') =>
    (await sideOf(page, pontoon, side).allInnerTexts()).map((text) => text.replace('✓', '').trim())
  const save = async (page: Page) => {
    await page.getByRole('button', { name: 'Save the drawing' }).click()
    await page.getByText('The drawing is saved.').waitFor(SOON)
  }
  const drawing = async () => (await service.get('/v1/pontoons/drawing')) as PontoonDrawing
  const drawn = async (name: string) => (await drawing()).pontoons.find((one) => one.name === name)

  it('by pointer: a stroke on the plan is a pontoon, and berths are dragged to other places', async () => {
    const { page, complaints, close } = await openDrawing(DESK)
    await page.getByRole('button', { name: 'Draw a pontoon' }).click()
    await page.locator('.yard').scrollIntoViewIfNeeded()
    const plan = (await page.locator('.yard').boundingBox())!
    await page.mouse.move(plan.x + plan.width - 60, plan.y + plan.height - 20)
    await page.mouse.down()
    await page.mouse.move(plan.x + plan.width - 60, plan.y + plan.height - 60, { steps: 4 })
    await page.mouse.move(plan.x + plan.width - 60, plan.y + plan.height - 120, { steps: 4 })
    await page.mouse.up()
    await page.getByText('A line of').waitFor()
    await page.getByLabel('Name of the pontoon').first().fill('Heron')
    await page.getByLabel('Berths begin with').fill('H')
    await page.getByLabel('Berths on the left').fill('3')
    await page.getByLabel('Berths on the right').fill('2')
    await page.getByRole('button', { name: 'Add this pontoon' }).click()
    await page.getByText('Pontoon Heron is added with 5 berths.').waitFor()
    expect([await namesOf(page, 'Heron', 'left'), await namesOf(page, 'Heron', 'right')]).toEqual([
      ['H1', 'H3', 'H5'],
      ['H2', 'H4'],
    ])
    await drag(page, sideOf(page, 'Heron', 'left').nth(2), sideOf(page, 'Heron', 'left').nth(0))
    await drag(page, sideOf(page, 'Heron', 'right').nth(1), sideOf(page, 'Heron', 'left').nth(1))
    expect(await namesOf(page, 'Heron', 'left')).toEqual(['H5', 'H4', 'H1', 'H3'])
    await drag(page, sideOf(page, 'Heron', 'left').nth(0), sideOf(page, 'Heron', 'right').nth(0))
    await page.getByRole('button', { name: 'Undo the last step' }).click()
    expect(await namesOf(page, 'Heron', 'left')).toEqual(['H5', 'H4', 'H1', 'H3'])
    await expectFit(page)
    await save(page)
    expect(await drawn('Heron')).toMatchObject({ headingDegrees: 0, right: [{ name: 'H2' }] })

    await page.reload()
    await stripOf(page, 'Heron').waitFor(SOON)
    expect(await namesOf(page, 'Heron', 'left')).toEqual(['H5', 'H4', 'H1', 'H3'])
    await page.goto(`${service.address}/pontoons`)
    await page.getByRole('region', { name: 'Pontoon Heron' }).waitFor(SOON)
    const bays = page.getByRole('region', { name: 'Pontoon Heron' }).locator('.bay')
    expect(await bays.first().locator('.berth-name').allInnerTexts()).toEqual(['H5', 'H2'])
    await expectFit(page)
    expect(complaints).toEqual([])
    await close()
  })

  it('wholly by keyboard, on a phone: a pontoon is added, its berths moved, swapped, renamed and removed', async () => {
    const { page, complaints, close } = await openDrawing(PHONE)
    const press = async (name: string, within: Pick<Page, 'getByRole'> = page) => {
      await within.getByRole('button', { name }).focus()
      await page.keyboard.press('Enter')
    }
    const type = async (label: string, text: string) => {
      await page.getByLabel(label).first().focus()
      await page.keyboard.press('ControlOrMeta+A')
      await page.keyboard.type(text)
    }
    await press('Add this pontoon')
    await page.getByText('A name is needed.').waitFor()
    await type('Name of the pontoon', 'Otter')
    await type('Berths on the left', '2')
    await type('Berths on the right', '1')
    await type('Length of a berth', '9,5')
    await page.keyboard.press('Enter')
    await page.getByText('Pontoon Otter is added with 3 berths.').waitFor()
    const strip = stripOf(page, 'Otter')
    await press('Otter1, left', strip)
    await press('Away from the shore', strip)
    expect(await namesOf(page, 'Otter', 'left')).toEqual(['Otter3', 'Otter1'])
    await press('To the other side', strip)
    expect(await namesOf(page, 'Otter', 'right')).toEqual(['Otter2', 'Otter1'])
    await type('Name of the berth', 'Slip')
    await page.keyboard.press('Enter')
    expect(await namesOf(page, 'Otter', 'right')).toEqual(['Otter2', 'Slip'])
    await press('Add a berth to Otter, right', strip)
    await press('Remove the berth', strip)
    await press('Otter2, right', strip)
    await press('Remove the berth', strip)
    expect(await namesOf(page, 'Otter', 'right')).toEqual(['Slip'])
    await page.getByRole('button', { name: 'Pontoon Otter:' }).focus()
    await page.keyboard.press('Shift+ArrowLeft')
    await page.getByText('Otter is drawn anew.').waitFor()
    await expectFit(page)
    expect(await smallTargets(page)).toEqual([])
    // A pontoon on the plan is hit within its stroke, which no scale makes narrower.
    const reach = page.locator('.yard-reach').first()
    expect(await reach.evaluate((line) => getComputedStyle(line).strokeWidth)).toBe('44px')
    expect(await reach.evaluate((line) => getComputedStyle(line).vectorEffect)).toBe('non-scaling-stroke')
    await press('Save the drawing')
    await page.getByText('The drawing is saved.').waitFor(SOON)
    expect(await drawn('Otter')).toMatchObject({
      berthLengthM: 9.5,
      left: [{ name: 'Otter3' }],
      right: [{ name: 'Slip' }],
    })

    await page.reload()
    await stripOf(page, 'Otter').waitFor(SOON)
    expect(await namesOf(page, 'Otter', 'right')).toEqual(['Slip'])
    await page.goto(`${service.address}/pontoons`)
    const planned = page.getByRole('region', { name: 'Pontoon Otter' })
    await planned.waitFor(SOON)
    expect(await planned.locator('.berth-name').allInnerTexts()).toEqual(['Otter3', 'Slip'])
    await expectFit(page)
    expect(complaints).toEqual([])
    await close()
  })

  it('by two at once: the second is told, and draws on what the first has saved', async () => {
    const one = await openDrawing(DESK)
    const two = await openDrawing(DESK)
    const turn = (page: Page, pontoon: string) =>
      page.getByRole('button', { name: `Shore at the other end ${pontoon}` }).click()
    const before = await drawing()
    const [first, second] = before.pontoons
    await turn(one.page, first!.name)
    await turn(two.page, second!.name)
    await save(one.page)
    await two.page.getByRole('button', { name: 'Save the drawing' }).click()
    await two.page.getByText('Nothing of yours is lost.').waitFor(SOON)
    await expectFit(two.page)
    await two.page.getByRole('button', { name: 'Draw my step on the newest' }).click()
    await two.page.getByText('Your steps stand on the newest drawing.').waitFor(SOON)
    await save(two.page)
    const now = await drawing()
    const headings = (of: PontoonDrawing) => of.pontoons.slice(0, 2).map(({ headingDegrees }) => headingDegrees)
    expect(headings(now)).toEqual(headings(before).map((heading) => (heading + 180) % 360))
    // The refusal is an answer that the browser notes.
    expect(two.complaints.filter((complaint) => !complaint.includes('412'))).toEqual([])
    await one.close()
    await two.close()
  })
})

type Place = ReturnType<Page['locator']>

async function drag(page: Page, from: Place, to: Place): Promise<void> {
  await from.scrollIntoViewIfNeeded()
  const [start, end] = [(await from.boundingBox())!, (await to.boundingBox())!]
  await page.mouse.move(start.x + start.width / 2, start.y + start.height / 2)
  await page.mouse.down()
  await page.mouse.move(end.x + end.width / 2, end.y + end.height / 2, { steps: 6 })
  await page.mouse.up()
}

/** What is to be tapped and is smaller than a fingertip, 44 px (WCAG 2.5.5). */
function smallTargets(page: Page): Promise<string[]> {
  return page.locator('.set-up :is(button, summary, select)').evaluateAll((elements) =>
    elements
      .map((element) => ({ element, box: element.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && (box.width < 44 || box.height < 44))
      .map(({ element, box }) => `${element.outerHTML.slice(0, 80)} ${box.width} × ${box.height}`),
  )
}
