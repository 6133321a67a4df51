import type { PlannedBerth, PlannedPontoon } from '../../api/pontoons.js'
import { Boats } from './berth-cell.js'
import { type Effect, STEP_SYMBOLS, sayEffect, sayEffectSpan, stepOf } from './effect-scale.js'
import { FindingLinks } from './finding-links.js'
import { effectOf } from './planned-effect.js'
import { t } from './pontoon-words.js'

/** The plan as a table: the same in rows. */
export function BerthTable({ pontoons }: { pontoons: readonly PlannedPontoon[] }) {
  return (
    <div className="panel berth-table">
      <table>
        <caption className="unseen">{t('caption')}</caption>
        <thead>
          <tr>
            <th scope="col">{t('head.berth')}</th>
            <th scope="col">{t('head.boat')}</th>
            <th scope="col">{t('head.waste')}</th>
            <th scope="col">{t('findings')}</th>
          </tr>
        </thead>
        {pontoons.map(({ pontoon, berths, findings }) => (
          <tbody key={pontoon ?? ''}>
            <tr>
              <th scope="rowgroup" colSpan={4} className="berth-table-pontoon">
                {pontoon ?? t('apart')}
                <FindingLinks findings={findings} />
              </th>
            </tr>
            {berths.map((berth) => (
              <BerthRow key={berth.berth} berth={berth} />
            ))}
          </tbody>
        ))}
      </table>
    </div>
  )
}

function BerthRow({ berth }: { berth: PlannedBerth }) {
  return (
    <tr>
      <th scope="row">{berth.berth}</th>
      <td>
        <Boats boats={berth.boats} />
      </td>
      <td>
        <EffectFigure effect={effectOf(berth)} />
      </td>
      <td>
        <FindingLinks findings={berth.findings} />
      </td>
    </tr>
  )
}

function EffectFigure({ effect }: { effect: Effect | null }) {
  if (effect === null) return <span className="soft">{t('notKnown')}</span>
  return (
    <>
      <strong>
        <span aria-hidden="true" className="berth-sign">
          {STEP_SYMBOLS[stepOf(effect)]}{' '}
        </span>
        {sayEffect(effect)}
      </strong>
      <span className="small soft berth-span">{sayEffectSpan(effect)}</span>
    </>
  )
}
