import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { seriousViolations } from './browser.js'

/** Holds the page as it stands, light and dark, to its width and to what axe-core asks. */
export async function expectFit(page: Page): Promise<void> {
  const isWide = () => document.documentElement.scrollWidth > document.documentElement.clientWidth
  expect(await page.evaluate(isWide)).toBe(false)
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    expect(await seriousViolations(page)).toEqual([])
  }
}
