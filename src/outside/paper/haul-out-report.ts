import { setLiftPage } from './lift-page.js'
import { setOutlookPage } from './outlook-page.js'
import { PaperWords } from './paper-words.js'
import type { HaulOutReport } from './report.js'
import { bytesOf, newDocument, Sheet } from './sheet.js'

/** The report as a PDF of two pages, however much is on record: what finds no room is told by its number. */
export function writeHaulOutReport(report: HaulOutReport): Promise<Buffer> {
  const { boat, haulOut, organisation, madeAt } = report
  const words = new PaperWords(report.reading)
  const { t } = words
  const title = [t('title'), boat.name, haulOut?.hauledOn].filter(Boolean).join(', ')
  const doc = newDocument({ title, author: organisation, madeAt, language: words.language })
  const pages = [setLiftPage, setOutlookPage]
  pages.forEach((set, index) => {
    const sheet = new Sheet(doc)
    set(sheet, report, words)
    const made = `${madeAt.toISOString().slice(0, 16).replace('T', ' ')} UTC`
    const line = t('made', { page: index + 1, pages: pages.length, at: made, yard: organisation })
    sheet.foot(t('caution'), line)
  })
  return bytesOf(doc)
}
