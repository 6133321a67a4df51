import type { FindingItem } from '../../contract/findings.js'
import { capital, type PaperCaution, type PaperWords } from './paper-words.js'
import type { HaulOutReport, LiftedAnode } from './report.js'
import { INK, LEFT, RIGHT, type Sheet } from './sheet.js'
import { type Column, setTable } from './table.js'

/** Most rows and findings that leave room for the cautions. */
const MOST_ANODES = 18
const MOST_FINDINGS = 4
const MOST_CAUTIONS = 8

/** The first page: what was found when the boat was lifted. */
export function setLiftPage(sheet: Sheet, report: HaulOutReport, words: PaperWords): void {
  setHead(sheet, report, words)
  sheet.heading(words.t('anodes'))
  setAnodes(sheet, report, words)
  sheet.heading(words.t('findings'))
  setFindings(sheet, report.findings, words)
  setCautions(sheet, report.cautions, words)
}

function setHead(sheet: Sheet, report: HaulOutReport, words: PaperWords): void {
  const { boat, organisation } = report
  sheet.line(`${words.t('title')} · ${organisation}`, { colour: INK.soft })
  sheet.line(boat.name, { face: 'bold', size: 20 })
  sheet.y += 2
  sheet.rule(INK.act)
  for (const row of factRows(report, words)) {
    row.forEach(([name, value], index) => {
      const x = LEFT + (index * (RIGHT - LEFT)) / 2
      sheet.cell(name, x, 74, { colour: INK.soft })
      sheet.cell(value, x + 76, (RIGHT - LEFT) / 2 - 80, { face: 'bold' })
    })
    sheet.y += 13
  }
}

type Fact = readonly [name: string, value: string]

function factRows({ boat, audit, haulOut }: HaulOutReport, words: PaperWords): Fact[][] {
  const { t } = words
  const ashore = audit.berth ? t('ashoreFrom', { berth: audit.berth }) : t('ashore')
  const berth = boat.ashore ? ashore : (audit.berth ?? t('notRecorded'))
  const water = audit.water === null ? '' : `, ${t(`water.${audit.water}`)}`
  return [
    [
      [t('fact.berth'), `${berth}${water}`],
      [t('fact.hauled'), haulOut === null ? t('noHaulOut') : sayHauled(haulOut, words)],
    ],
    [
      [t('fact.hull'), boat.hull === null ? t('notRecorded') : words.hull(boat.hull)],
      [t('fact.relaunched'), haulOut?.relaunchedOn ? words.day(haulOut.relaunchedOn) : t('notOnRecord')],
    ],
    [
      [t('fact.owner'), boat.ownerName ?? boat.ownerEmail ?? t('notRecorded')],
      [t('fact.note'), haulOut?.note ?? t('none')],
    ],
  ]
}

function sayHauled({ hauledOn, planned }: NonNullable<HaulOutReport['haulOut']>, words: PaperWords): string {
  const day = words.day(hauledOn)
  return planned ? words.t('planned', { day }) : day
}

function columns(words: PaperWords): Column<LiftedAnode>[] {
  const { t } = words
  const mass = (grams: number | null) => massOr(grams, '–', words)
  return [
    { head: t('column.anode'), share: 0.115, text: ({ anode }) => anode },
    { head: t('column.position'), share: 0.13, text: ({ position }) => words.position(position) },
    { head: t('column.alloy'), share: 0.085, text: ({ alloy }) => (alloy ? words.alloy(alloy) : t('notKnown')) },
    { head: t('column.fitted'), share: 0.075, align: 'right', text: ({ fittedG }) => mass(fittedG) },
    { head: t('column.last'), share: 0.075, align: 'right', text: ({ lastG }) => mass(lastG) },
    { head: t('column.found'), share: 0.115, align: 'right', text: (anode) => sayFound(anode, words) },
    { head: t('column.consumed'), share: 0.095, align: 'right', text: (anode) => sayConsumed(anode, words) },
    {
      head: t('column.looks'),
      share: 0.185,
      text: ({ found }) => (found && words.conditions(found.conditions)) || '–',
    },
    { head: t('column.replaced'), share: 0.125, text: ({ replacedBy }) => replacedBy ?? t('kept') },
  ]
}

function setAnodes(sheet: Sheet, { anodes, haulOut }: HaulOutReport, words: PaperWords): void {
  const { t } = words
  if (anodes.length === 0) {
    sheet.line(t('noAnodeThatDay'))
    return
  }
  setTable(sheet, columns(words), anodes, { most: MOST_ANODES, sayMore: (count) => t('more', { count }) })
  const note = haulOut === null ? `${t('foundIsLatest')} ` : ''
  sheet.line(note + t('masses'), { size: 7.5, colour: INK.soft })
}

function massOr(grams: number | null, otherwise: string, words: PaperWords): string {
  return grams === null ? otherwise : words.mass(grams)
}

function sayFound({ found }: LiftedAnode, words: PaperWords): string {
  if (found === null) return words.t('notWeighed')
  return [massOr(found.massG, '', words), words.method(found.method)].filter(Boolean).join(', ') || '–'
}

function sayConsumed({ found }: LiftedAnode, words: PaperWords): string {
  return found?.consumed == null ? '–' : words.percent(found.consumed)
}

function setFindings(sheet: Sheet, findings: readonly FindingItem[], words: PaperWords): void {
  if (findings.length === 0) sheet.line(words.t('nothing'))
  for (const finding of findings.slice(0, MOST_FINDINGS)) {
    sheet.line(capital(words.finding(finding)), { face: 'bold', size: 9 })
    sheet.paragraph(words.cause(finding), {}, 2)
    sheet.paragraph(words.nextCheck(finding.nextCheck), {}, 5)
    sheet.y += 3
  }
  const count = findings.length - MOST_FINDINGS
  if (count > 0) sheet.line(words.t('more', { count }), { colour: INK.soft })
}

function setCautions(sheet: Sheet, cautions: readonly PaperCaution[], words: PaperWords): void {
  if (cautions.length === 0) return
  sheet.heading(words.t('cautions'))
  for (const caution of cautions.slice(0, MOST_CAUTIONS))
    sheet.paragraph(`⚠ ${words.caution(caution)}`, { colour: INK.stop }, 4)
}
