import { useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useId } from 'react'
import type { HaulOutView } from '../../../contract/haul-outs.js'
import { useRefit } from '../../api/haul-outs.js'
import { useRemovePlannedLifts, useWritePlannedLifts } from '../../api/planned-lifts.js'
import { sayDay } from '../../wording/days.js'
import { t } from './boat-words.js'

/** Puts one lift of a boat into the calendar. */
export function PlanLift({ boat, asOf }: { boat: string; asOf: string }) {
  const queries = useQueryClient()
  const write = useWritePlannedLifts()
  const refit = useRefit(write.data?.refit?.id)
  const id = useId()
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const on = String(new FormData(event.currentTarget).get('on'))
    write.mutate(
      { lifts: [{ boat, on }] },
      { onSuccess: () => queries.invalidateQueries({ queryKey: ['haul-outs', boat] }) },
    )
  }
  const isReckoning = refit !== undefined && refit.state !== 'completed' && refit.state !== 'failed'
  return (
    <form className="plan-lift" onSubmit={submit} aria-label={t('planLift.heading')}>
      <div className="field">
        <label htmlFor={id}>{t('planLift.day')}</label>
        <input id={id} name="on" type="date" required min={asOf} aria-invalid={write.isError} />
      </div>
      <button type="submit" className="button" disabled={write.isPending}>
        {t('planLift.add')}
      </button>
      <p role="status" className="soft small">
        {isReckoning && t('planLift.reckoning')}
        {write.data?.present === 1 && t('planLift.there')}
      </p>
      {write.isError && (
        <p className="field-wrong" role="alert">
          {write.error.message}
        </p>
      )}
    </form>
  )
}

export interface TakesOut {
  readonly takeOut: (haulOut: HaulOutView) => void
  readonly isBusy: boolean
  /** Why the last one stayed; null where it did not. */
  readonly failed: string | null
}

/** Takes planned lifts of a boat out of the calendar, as long as nothing was logged at them. Of the whole list: a row is gone before the forecasts are there. */
export function useTakeOut(boat: string): TakesOut {
  const queries = useQueryClient()
  const remove = useRemovePlannedLifts()
  useRefit(remove.data?.refit?.id)
  const again = () => queries.invalidateQueries({ queryKey: ['haul-outs', boat] })
  return {
    takeOut: ({ id, version }) => remove.mutate({ lifts: [{ id, version }] }, { onSuccess: again }),
    isBusy: remove.isPending,
    failed: remove.error?.message ?? (remove.data?.removed === 0 ? t('planLift.kept') : null),
  }
}

export function TakeOutButton({ haulOut, planned }: { haulOut: HaulOutView; planned: TakesOut }) {
  return (
    <button
      type="button"
      className="button"
      aria-label={t('planLift.outOf', { day: sayDay(haulOut.hauledOn) })}
      disabled={planned.isBusy}
      onClick={() => planned.takeOut(haulOut)}
    >
      {t('planLift.out')}
    </button>
  )
}
