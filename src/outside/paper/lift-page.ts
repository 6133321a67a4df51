import type { FindingItem } from '../../contract/findings.js'
import {
  capital,
  HULL_WORDS,
  METHOD_WORDS,
  sayCause,
  sayConditions,
  sayDay,
  sayFinding,
  sayMass,
  sayPercent,
} from './paper-words.js'
import type { HaulOutReport, LiftedAnode } from './report.js'
import { INK, LEFT, RIGHT, type Sheet } from './sheet.js'
import { type Column, setTable } from './table.js'

/** Most rows and findings that leave room for the cautions. */
const MOST_ANODES = 18
const MOST_FINDINGS = 4
const MOST_CAUTIONS = 8

/** The first page: what was found when the boat was lifted. */
export function setLiftPage(sheet: Sheet, report: HaulOutReport): void {
  setHead(sheet, report)
  sheet.heading('Anodes')
  setAnodes(sheet, report)
  sheet.heading('Findings')
  setFindings(sheet, report.findings)
  setCautions(sheet, report.cautions)
}

function setHead(sheet: Sheet, report: HaulOutReport): void {
  const { boat, organisation } = report
  sheet.line(`Haul-out report · ${organisation}`, { colour: INK.soft })
  sheet.line(boat.name, { face: 'bold', size: 20 })
  sheet.y += 2
  sheet.rule(INK.act)
  for (const row of factRows(report)) {
    row.forEach(([name, value], index) => {
      const x = LEFT + (index * (RIGHT - LEFT)) / 2
      sheet.cell(name, x, 74, { colour: INK.soft })
      sheet.cell(value, x + 76, (RIGHT - LEFT) / 2 - 80, { face: 'bold' })
    })
    sheet.y += 13
  }
}

type Fact = readonly [name: string, value: string]

function factRows({ boat, audit, haulOut }: HaulOutReport): Fact[][] {
  const berth = boat.ashore ? `ashore${audit.berth ? `, last at ${audit.berth}` : ''}` : (audit.berth ?? 'not recorded')
  const water = audit.water === null ? '' : `, ${audit.water} water`
  return [
    [
      ['Berth', `${berth}${water}`],
      ['Hauled', haulOut === null ? 'no haul-out on record' : sayHauled(haulOut)],
    ],
    [
      ['Hull', boat.hull === null ? 'not recorded' : HULL_WORDS[boat.hull]],
      ['Relaunched', haulOut?.relaunchedOn ? sayDay(haulOut.relaunchedOn) : 'not on record'],
    ],
    [
      ['Owner', boat.ownerName ?? boat.ownerEmail ?? 'not recorded'],
      ['Note', haulOut?.note ?? 'none'],
    ],
  ]
}

function sayHauled({ hauledOn, planned }: NonNullable<HaulOutReport['haulOut']>): string {
  return `${sayDay(hauledOn)}${planned ? ', planned' : ''}`
}

const COLUMNS: readonly Column<LiftedAnode>[] = [
  { head: 'Anode', share: 0.12, text: ({ anode }) => anode },
  { head: 'Position', share: 0.11, text: ({ position }) => position },
  { head: 'Alloy', share: 0.09, text: ({ alloy }) => alloy ?? 'not known' },
  { head: 'Fitted', share: 0.075, align: 'right', text: ({ fittedG }) => massOr(fittedG, '–') },
  { head: 'Last', share: 0.075, align: 'right', text: ({ lastG }) => massOr(lastG, '–') },
  { head: 'Found', share: 0.115, align: 'right', text: sayFound },
  { head: 'Consumed', share: 0.095, align: 'right', text: sayConsumed },
  { head: 'Looks', share: 0.195, text: ({ found }) => (found && sayConditions(found.conditions)) || '–' },
  { head: 'Replaced by', share: 0.125, text: ({ replacedBy }) => replacedBy ?? 'kept' },
]

function setAnodes(sheet: Sheet, { anodes, haulOut }: HaulOutReport): void {
  if (anodes.length === 0) {
    sheet.line('No anode is on record for that day.')
    return
  }
  setTable(sheet, COLUMNS, anodes, MOST_ANODES)
  const note = haulOut === null ? 'Found is the latest weighing. ' : ''
  const masses = 'Gross masses, core and fasteners included; consumed is the share of the net mass when new.'
  sheet.line(note + masses, { size: 7.5, colour: INK.soft })
}

function massOr(grams: number | null, otherwise: string): string {
  return grams === null ? otherwise : sayMass(grams)
}

function sayFound({ found }: LiftedAnode): string {
  if (found === null) return 'not weighed'
  const how = METHOD_WORDS[found.method]
  return [massOr(found.massG, ''), how].filter(Boolean).join(', ') || '–'
}

function sayConsumed({ found }: LiftedAnode): string {
  return found?.consumed == null ? '–' : sayPercent(found.consumed)
}

function setFindings(sheet: Sheet, findings: readonly FindingItem[]): void {
  if (findings.length === 0)
    sheet.line('Nothing stands out: the anodes waste as expected, as far as they were weighed.')
  for (const finding of findings.slice(0, MOST_FINDINGS)) {
    sheet.line(capital(sayFinding(finding)), { face: 'bold', size: 9 })
    sheet.paragraph(sayCause(finding), {}, 2)
    sheet.paragraph(sayNextCheck(finding), {}, 5)
    sheet.y += 3
  }
  const left = findings.length - MOST_FINDINGS
  if (left > 0) sheet.line(`and ${left} more: see the boat’s page`, { colour: INK.soft })
}

function sayNextCheck({ nextCheck }: FindingItem): string {
  if (nextCheck === null) return 'No further check would tell more: mend it, and record what was done.'
  const title = /[.!?]$/.test(nextCheck.title) ? nextCheck.title : `${nextCheck.title}.`
  return `Next check: ${title} ${nextCheck.how.join(' ')}`
}

function setCautions(sheet: Sheet, cautions: readonly string[]): void {
  if (cautions.length === 0) return
  sheet.heading('Cautions')
  for (const caution of cautions.slice(0, MOST_CAUTIONS)) sheet.paragraph(`⚠ ${caution}`, { colour: INK.stop }, 4)
}
