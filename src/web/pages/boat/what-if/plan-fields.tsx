import { type ReactNode, useEffect, useId, useRef } from 'react'
import { useBerths } from '../../../api/boats.js'
import { within } from '../../../wording/things.js'
import { EntryField } from '../../haul-out/entry-field.js'
import { t } from '../boat-words.js'
import { ASHORE, FIRST_KEY, type LiftDraft, type StayDraft } from './plan-draft.js'
import type { Planning } from './use-plan.js'

/** The stays and the lifts of a plan, each with a way to take it out again. */
export function PlanFields({ planning }: { planning: Planning }) {
  const { plan, addStay, addLift, remove } = planning
  const stays = useRef<HTMLButtonElement>(null)
  const lifts = useRef<HTMLButtonElement>(null)
  const takeOut = (key: number, then: React.RefObject<HTMLButtonElement | null>) => {
    remove(key)
    // What had the focus is gone; the nearest thing left takes it.
    then.current?.focus()
  }
  return (
    <>
      {plan.stays.map((stay, index) => (
        <Entry
          key={stay.key}
          name={t('plan.stay', { number: index + 1 })}
          isAdded={stay.key > FIRST_KEY}
          remove={() => takeOut(stay.key, stays)}
        >
          <StayFields stay={stay} index={index} planning={planning} />
        </Entry>
      ))}
      {plan.lifts.map((lift, index) => (
        <Entry
          key={lift.key}
          name={t('plan.lift', { number: index + 1 })}
          isAdded
          remove={() => takeOut(lift.key, lifts)}
        >
          <LiftField lift={lift} index={index} planning={planning} />
        </Entry>
      ))}
      <p className="chips">
        <button type="button" className="button" ref={stays} onClick={addStay}>
          {t('plan.addStay')}
        </button>
        <button type="button" className="button" ref={lifts} onClick={addLift}>
          {t('plan.addLift')}
        </button>
      </p>
    </>
  )
}

interface EntryProps {
  name: string
  isAdded: boolean
  remove: () => void
  children: ReactNode
}

function Entry({ name, isAdded, remove, children }: EntryProps) {
  const place = useRef<HTMLFieldSetElement>(null)
  // Whoever adds an entry wants to fill it in next; the button for it comes after its fields.
  useEffect(() => {
    if (isAdded) place.current?.querySelector<HTMLElement>('select, input')?.focus()
  }, [isAdded])
  return (
    <fieldset className="plan-entry" ref={place}>
      <legend>{name}</legend>
      {children}
      <button type="button" className="button button-plain" onClick={remove}>
        {t('plan.takeOut')}
        <span className="unseen"> {within(name)}</span>
      </button>
    </fieldset>
  )
}

function StayFields({ stay, index, planning }: { stay: StayDraft; index: number; planning: Planning }) {
  const id = useId()
  const berths = useBerths()
  const change = (part: Partial<StayDraft>) => planning.changeStay(index, stay.key, part)
  const wrongAt = (field: string) => planning.problems.get(`/stays/${index}/${field}`)
  const wrong = wrongAt('berth')
  return (
    <>
      <div className="field">
        <label htmlFor={id}>{t('plan.where')}</label>
        <select
          id={id}
          value={stay.berth}
          onChange={(event) => change({ berth: event.target.value })}
          aria-invalid={wrong !== undefined}
          aria-describedby={wrong === undefined ? undefined : `${id}-wrong`}
        >
          <option value={ASHORE}>{t('plan.ashore')}</option>
          {berths.data?.map(({ name }) => (
            <option key={name} value={name}>
              {t('plan.berth', { name })}
            </option>
          ))}
        </select>
        {wrong !== undefined && (
          <p className="field-wrong" id={`${id}-wrong`}>
            <span>{wrong}</span>
          </p>
        )}
      </div>
      <EntryField
        label={t('plan.from')}
        type="date"
        value={stay.fromOn}
        onChange={(fromOn) => change({ fromOn })}
        wrong={wrongAt('fromOn')}
      />
      <EntryField
        label={t('plan.until')}
        type="date"
        hint={t('plan.untilHint')}
        value={stay.toOn}
        onChange={(toOn) => change({ toOn })}
        wrong={wrongAt('toOn')}
      />
    </>
  )
}

function LiftField({ lift, index, planning }: { lift: LiftDraft; index: number; planning: Planning }) {
  return (
    <EntryField
      label={t('plan.liftedOn')}
      type="date"
      value={lift.on}
      onChange={(on) => planning.changeLift(index, lift.key, on)}
      wrong={planning.problems.get(`/haulOuts/${index}`)}
    />
  )
}
