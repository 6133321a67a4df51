import { setLiftPage } from './lift-page.js'
import { setOutlookPage } from './outlook-page.js'
import type { HaulOutReport } from './report.js'
import { bytesOf, newDocument, Sheet } from './sheet.js'

/** The report as a PDF of two pages, however much is on record: what finds no room is told by its number. */
export function writeHaulOutReport(report: HaulOutReport): Promise<Buffer> {
  const { boat, haulOut, organisation, madeAt } = report
  const title = ['Haul-out report', boat.name, haulOut?.hauledOn].filter(Boolean).join(', ')
  const doc = newDocument({ title, author: organisation, madeAt })
  const pages = [setLiftPage, setOutlookPage]
  pages.forEach((set, index) => {
    const sheet = new Sheet(doc)
    set(sheet, report)
    const made = `${madeAt.toISOString().slice(0, 16).replace('T', ' ')} UTC`
    sheet.foot(CAUTION, `Page ${index + 1} of ${pages.length}. Made on ${made} for ${organisation} by Anode Ledger.`)
  })
  return bytesOf(doc)
}

const CAUTION = 'A measuring aid, not a survey. Never paint an anode. Local codes and licensed practice come first.'
