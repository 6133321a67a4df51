import type { GroupScore } from '../../../contract/model.js'
import { sayMass, sayPercent } from '../../wording/amounts.js'
import { currentLocale } from '../../wording/locale.js'
import { capital } from '../../wording/things.js'
import { sayAhead, sayGroup, t, verdictOn } from './model-words.js'

interface ScoreTableProps {
  caption: string
  groups: readonly GroupScore[]
}

/** How the forecasts of each group did; groups that nothing was judged of are said to be so. */
export function ScoreTable({ caption, groups }: ScoreTableProps) {
  return (
    <table className="scores">
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="unseen">{t('scores.group')}</span>
          </th>
          <th scope="col">{t('scores.judged')}</th>
          <th scope="col" className="wide-only">
            {t('scores.within', { level: sayPercent(0.5) })}
          </th>
          <th scope="col">{t('scores.within', { level: sayPercent(0.8) })}</th>
          <th scope="col">{t('scores.within', { level: sayPercent(0.9) })}</th>
          <th scope="col">{t('scores.days')}</th>
          <th scope="col" className="wide-only">
            {t('scores.error')}
          </th>
        </tr>
      </thead>
      <tbody>
        {groups.map((group) => (
          <Row key={group.group} score={group} />
        ))}
      </tbody>
    </table>
  )
}

function Row({ score: { group, scored, coverage, biasDays, crpsG } }: { score: GroupScore }) {
  const [half, eighty, ninety] = coverage
  return (
    <tr>
      <th scope="row">{capital(sayGroup(group))}</th>
      <td>{scored.toLocaleString(currentLocale())}</td>
      <td className="wide-only">
        <Share coverage={half} />
      </td>
      <td>
        <Share coverage={eighty} />
      </td>
      <td>
        <Share coverage={ninety} />
      </td>
      <td>{sayAhead(biasDays)}</td>
      <td className="wide-only">{crpsG === null ? '–' : sayMass(crpsG)}</td>
    </tr>
  )
}

/** The share with the interval that so many weighings leave it, and a word where that is not the share promised. */
function Share({ coverage }: { coverage: GroupScore['coverage'][number] | undefined }) {
  const verdict = coverage && verdictOn(coverage)
  if (!coverage || !verdict || coverage.share === null || coverage.low === null || coverage.high === null) return '–'
  return (
    <>
      {sayPercent(coverage.share)}
      <small>
        {Math.round(coverage.low * 100)}–{Math.round(coverage.high * 100)}
        {verdict !== 'asPromised' && <span className="off"> {t(`off.${verdict}`)}</span>}
      </small>
    </>
  )
}
