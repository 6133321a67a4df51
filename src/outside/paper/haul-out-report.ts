import { setLiftPage } from './lift-page.js'
import { setOutlookPage } from './outlook-page.js'
import type { HaulOutReport } from './report.js'
import { bytesOf, newDocument, Sheet } from './sheet.js'

/** The report as a PDF of two pages, however much is on record: what finds no room is told by its number. */
export function writeHaulOutReport(report: HaulOutReport): Promise<Buffer> {
  const { boat, haulOut, organisation, madeAt } = report
  const title = ['Haul-out report', boat.name, haulOut?.hauledOn].filter(Boolean).join(', ')
  const doc = newDocument({ title, author: organisation, madeAt })
  setLiftPage(new Sheet(doc), report)
  setOutlookPage(new Sheet(doc), report)
  return bytesOf(doc)
}
