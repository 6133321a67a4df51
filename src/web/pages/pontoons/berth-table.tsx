import type { PlannedPontoon } from '../../api/pontoons.js'
import { Boats } from './berth-cell.js'
import { STEP_SYMBOLS, sayEffect, sayEffectSpan, stepOf } from './effect-scale.js'
import { FindingLinks } from './finding-links.js'
import { effectOf } from './planned-effect.js'

/** The plan as a table: the same in rows. */
export function BerthTable({ pontoons }: { pontoons: readonly PlannedPontoon[] }) {
  return (
    <div className="panel berth-table">
      <table>
        <caption className="unseen">Berths with what they do to anodes</caption>
        <thead>
          <tr>
            <th scope="col">Berth</th>
            <th scope="col">Boat</th>
            <th scope="col">Anodes waste</th>
            <th scope="col">Findings</th>
          </tr>
        </thead>
        {pontoons.map(({ pontoon, berths, findings }) => (
          <tbody key={pontoon ?? ''}>
            <tr>
              <th scope="rowgroup" colSpan={4} className="berth-table-pontoon">
                {pontoon ?? 'On no pontoon'}
                <FindingLinks findings={findings} />
              </th>
            </tr>
            {berths.map((berth) => {
              const effect = effectOf(berth)
              return (
                <tr key={berth.berth}>
                  <th scope="row">{berth.berth}</th>
                  <td>
                    <Boats boats={berth.boats} />
                  </td>
                  <td>
                    {effect === null ? (
                      <span className="soft">not known</span>
                    ) : (
                      <>
                        <strong>
                          <span aria-hidden="true" className="berth-sign">
                            {STEP_SYMBOLS[stepOf(effect)]}{' '}
                          </span>
                          {sayEffect(effect)}
                        </strong>
                        <span className="small soft berth-span">{sayEffectSpan(effect)}</span>
                      </>
                    )}
                  </td>
                  <td>
                    <FindingLinks findings={berth.findings} />
                  </td>
                </tr>
              )
            })}
          </tbody>
        ))}
      </table>
    </div>
  )
}
