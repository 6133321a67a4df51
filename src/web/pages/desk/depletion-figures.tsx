import { Link } from 'react-router'
import type { DepletionPage, DepletionStrip } from '../../../contract/desk.js'
import { sayInitial, sayMonth, useDeskWords, yearAt } from './desk-words.js'
import { useVirtualRows } from './use-virtual-rows.js'

const ROW_HEIGHT = 49
const THIS_MONTH = 12

interface DepletionFiguresProps {
  rows: readonly DepletionStrip[]
  months: DepletionPage['months']
  total: number
}

/** The strips in figures: percent consumed of the worst anode, with a mark where it is due. */
export function DepletionFigures({ rows, months, total }: DepletionFiguresProps) {
  const t = useDeskWords()
  const keys = rows.map(({ boat }) => boat)
  const { place, top, list } = useVirtualRows<HTMLDivElement>(keys, ROW_HEIGHT)
  const shown = list.getVirtualItems()
  const above = (shown[0]?.start ?? top) - top
  const below = list.getTotalSize() - ((shown.at(-1)?.end ?? top) - top)
  return (
    // A region that scrolls sideways must be reached by keyboard.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: WCAG 2.1.1, scrolled by the arrow keys
    <section className="desk-scroll" ref={place} aria-label={t('tab.depletion')} tabIndex={0}>
      <table className="desk-figures" aria-rowcount={total + 1}>
        <FiguresHead months={months} />
        <tbody>
          <Spacer height={above} />
          {shown.map(({ key, index }) => {
            const row = rows[index]
            return row && <FiguresRow key={key} row={row} index={index} months={months} />
          })}
          <Spacer height={below} />
        </tbody>
      </table>
    </section>
  )
}

function Spacer({ height }: { height: number }) {
  return (
    <tr className="desk-spacer">
      <td style={{ height: Math.max(0, height) }} />
    </tr>
  )
}

function FiguresHead({ months }: { months: DepletionPage['months'] }) {
  const t = useDeskWords()
  return (
    <thead>
      <tr aria-rowindex={1}>
        <th scope="col">{t('depletion.boat')}</th>
        {months.map((month, index) => (
          <th scope="col" key={month} className={index === THIS_MONTH ? 'desk-now' : ''}>
            <small aria-hidden="true">{yearAt(months, index)}</small>
            <span aria-hidden="true">{sayInitial(month)}</span>
            <span className="unseen">{sayMonth(month)}</span>
          </th>
        ))}
      </tr>
    </thead>
  )
}

function FiguresRow({ row, index, months }: { row: DepletionStrip; index: number; months: DepletionPage['months'] }) {
  return (
    <tr aria-rowindex={index + 2}>
      <th scope="row">
        <Link to={`/boats/${encodeURIComponent(row.boat)}`}>{row.boat}</Link>
      </th>
      {months.map((month, at) => {
        const consumed = row.consumed[at] ?? null
        const isDue = (row.used[at] ?? 0) >= 1
        return (
          <td key={month} className={isDue ? 'desk-figure-due' : ''}>
            {consumed === null ? '–' : Math.round(consumed * 100)}
            {isDue && '!'}
          </td>
        )
      })}
    </tr>
  )
}
