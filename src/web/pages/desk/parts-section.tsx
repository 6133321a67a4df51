import { Link } from 'react-router'
import { DEFAULT_RISK, type PartsList } from '../../../contract/desk-plan.js'
import { usePartsList } from '../../api/desk.js'
import { sayDay } from '../../wording/days.js'
import { Choice, Entry } from './choice.js'
import { DeskState } from './desk-state.js'
import { sayPosition, sayShare, useDeskWords } from './desk-words.js'
import { OrderTable } from './order-table.js'
import { RISKS } from './plan-section.js'
import type { DeskQuery } from './use-desk-query.js'

/** What to have at hand at the lifts in the calendar; made to be printed. */
export function PartsSection({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const [until, risk] = [desk.get('parts-until'), desk.get('parts-risk') || String(DEFAULT_RISK)]
  const filter = new URLSearchParams({ risk, ...(until === '' ? {} : { until }) })
  const list = usePartsList(filter)
  return (
    <>
      <p className="desk-note">{t('parts.intro')}</p>
      <div className="desk-sum desk-parts-form">
        <Entry
          label={t('parts.until')}
          type="date"
          value={until || (list.data?.until ?? '')}
          onChange={(day) => desk.set({ 'parts-until': day })}
        />
        <Choice
          label={t('parts.risk')}
          value={risk}
          choices={RISKS.map((each) => [each, sayShare(Number(each), t)] as const)}
          onChange={(next) => desk.set({ 'parts-risk': next === String(DEFAULT_RISK) ? '' : next })}
        />
        <button type="button" className="button" onClick={() => window.print()}>
          {t('parts.print')}
        </button>
        <a className="button button-plain" href={`/v1/desk/parts.csv?${filter}`} download>
          {t('csv')}
        </a>
      </div>
      <DeskState of={list} />
      {list.data && <Parts list={list.data} />}
    </>
  )
}

function Parts({ list }: { list: PartsList }) {
  const t = useDeskWords()
  if (list.lifts.length === 0) return <p className="panel">{t('parts.none')}</p>
  return (
    <div className="stack desk-parts">
      <section className="stack-tight">
        <h2>{t('parts.order')}</h2>
        <OrderTable parts={list.parts} />
        <p className="soft small desk-note">{t('parts.note')}</p>
      </section>
      <section className="stack-tight">
        <h2>{t('parts.byLift')}</h2>
        <table>
          <thead>
            <tr>
              <th scope="col">{t('parts.on')}</th>
              <th scope="col">{t('parts.boat')}</th>
              <th scope="col">{t('parts.replace')}</th>
            </tr>
          </thead>
          <tbody>
            {list.lifts.map((lift) => (
              <LiftRow key={`${lift.boat} ${lift.on}`} lift={lift} />
            ))}
          </tbody>
        </table>
      </section>
      <p className="soft small">{t('asOf', { day: sayDay(list.asOf) })}</p>
    </div>
  )
}

function LiftRow({ lift: { boat, berth, on, replace } }: { lift: PartsList['lifts'][number] }) {
  const t = useDeskWords()
  return (
    <tr>
      <td>{sayDay(on)}</td>
      <td>
        <Link to={`/boats/${encodeURIComponent(boat)}`}>{boat}</Link> <span className="soft small">{berth}</span>
      </td>
      <td>
        {replace.length === 0 ? (
          <span className="soft">{t('parts.nothing')}</span>
        ) : (
          replace.map(({ position, anode }) => `${sayPosition(position, t)} (${anode})`).join(', ')
        )}
      </td>
    </tr>
  )
}
