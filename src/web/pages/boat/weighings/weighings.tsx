import { type ReactNode, useRef, useState } from 'react'
import { STANDS_OUT_BELOW } from '../../../../engine/forecast/standouts.js'
import { type DepletionWeighing, photoUrl } from '../../../api/depletion.js'
import { useRefit } from '../../../api/haul-outs.js'
import { useMe } from '../../../api/session.js'
import { sayMass, sayPercent } from '../../../wording/amounts.js'
import { sayDay } from '../../../wording/days.js'
import { sayConditions, sayMethod } from '../../../wording/things.js'
import { t } from '../boat-words.js'
import { sayWeight } from '../forecast-words.js'
import { CorrectForm } from './correct-form.js'
import './weighings.css'

interface WeighingsProps {
  anode: string
  weighings: readonly DepletionWeighing[]
}

/** What was weighed of an anode, the newest first, with its photos; who logs at the lift puts right what was logged wrong. */
export function Weighings({ anode, weighings }: WeighingsProps) {
  const mayCorrect = useMe().data?.permissions.includes('lift:write') ?? false
  const [open, setOpen] = useState<string | null>(null)
  const [refit, setRefit] = useState<string>()
  useRefit(refit)
  const table = useRef<HTMLTableElement>(null)
  if (weighings.length === 0 && open === null) return <p className="soft">{t('notWeighed')}</p>
  const newestFirst = weighings.toReversed()
  const close = () => {
    // Where the hand was before; the button comes back with the row.
    const id = open
    setOpen(null)
    requestAnimationFrame(() => table.current?.querySelector<HTMLElement>(`[data-weighing="${id}"]`)?.focus())
  }
  return (
    <>
      <Photos weighings={newestFirst} />
      <details className="fold">
        <summary>{t('weighings', { count: weighings.length })}</summary>
        <table ref={table} className="weighed">
          <thead>
            <tr>
              <th scope="col">{t('date')}</th>
              <th scope="col">{t('grossMass')}</th>
              <th scope="col">{t('how')}</th>
              <th scope="col">{t('looks')}</th>
            </tr>
          </thead>
          <tbody>
            {newestFirst.map((weighing) => (
              <tr key={weighing.id}>
                <Cells weighing={weighing}>
                  {mayCorrect && (
                    <button
                      type="button"
                      className="button button-plain correct-open"
                      data-weighing={weighing.id}
                      aria-label={t('correct.of', { anode, day: sayDay(weighing.on) })}
                      aria-expanded={open === weighing.id}
                      onClick={() => setOpen(weighing.id)}
                    >
                      {t('correct.open')}
                    </button>
                  )}
                </Cells>
              </tr>
            ))}
          </tbody>
        </table>
        {open !== null && <CorrectForm key={open} id={open} anode={anode} onSaved={setRefit} onClose={close} />}
      </details>
    </>
  )
}

function Photos({ weighings }: Pick<WeighingsProps, 'weighings'>) {
  const photos = weighings.flatMap(({ photos, on }) => photos.map((id) => ({ id, on })))
  if (photos.length === 0) return null
  return (
    <ul className="photos" aria-label={t('photos')}>
      {photos.map(({ id, on }) => (
        <li key={id}>
          <a href={photoUrl(id, 'full')}>
            <img
              src={photoUrl(id, 'thumb')}
              alt={t('seenOn', { day: sayDay(on) })}
              loading="lazy"
              width="96"
              height="96"
            />
          </a>
        </li>
      ))}
    </ul>
  )
}

interface CellsProps {
  weighing: DepletionWeighing
  /** What can be done about it: in a cell of its own it would leave no room for words on a phone. */
  children: ReactNode
}

function Cells({ weighing: { on, massG, sdG, method, weight, conditions }, children }: CellsProps) {
  return (
    <>
      <td>{sayDay(on)}</td>
      <td>
        {sayMass(massG)} <span className="soft">± {sayMass(sdG)}</span>
      </td>
      <td>
        {sayMethod(method)}
        {sayWeight(weight) && <span className="soft small"> {sayWeight(weight)}</span>}
      </td>
      <td>
        {sayConditions(conditions) || '–'}
        <LittleWeight weight={weight} />
        {children}
      </td>
    </>
  )
}

/** Why a weighing far off the curve did not bend it. */
function LittleWeight({ weight }: { weight: number | null }) {
  if (weight === null || weight >= STANDS_OUT_BELOW) return null
  return <small className="little-weight">{t('standsOut', { share: sayPercent(weight) })}</small>
}
