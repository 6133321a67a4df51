import type { NewPlannedLifts } from '../../../contract/planned-lifts.js'
import { useRefit } from '../../api/haul-outs.js'
import { useRemovePlannedLifts, useWritePlannedLifts } from '../../api/planned-lifts.js'
import { sayDay } from '../../wording/days.js'
import { useDeskWords } from './desk-words.js'

/** Takes the plan over into the calendar, and back. */
export function PlanAcceptance({ lifts }: { lifts: NewPlannedLifts['lifts'] }) {
  const t = useDeskWords()
  const write = useWritePlannedLifts()
  const remove = useRemovePlannedLifts()
  // What the calendar changes elsewhere is read again once the forecasts are there.
  useRefit((remove.data ?? write.data)?.refit?.id)
  const written = write.data?.written ?? []
  const isInCalendar = write.isSuccess && !remove.isSuccess
  const failed = write.error ?? remove.error
  const undo = () => remove.mutate({ lifts: written.map(({ id, version }) => ({ id, version })) })
  const accept = () => {
    remove.reset()
    write.mutate({ lifts })
  }
  return (
    <section className="panel stack-tight desk-accept" aria-labelledby="plan-accept">
      <h2 id="plan-accept">{t('accept.heading')}</h2>
      <p className="soft">{t('accept.about')}</p>
      <p className="chips">
        {!isInCalendar && (
          <button
            type="button"
            className="button button-main"
            disabled={write.isPending || lifts.length === 0}
            onClick={accept}
          >
            {t('accept.write', { lifts: t('plan.lifts', { count: lifts.length }) })}
          </button>
        )}
        {isInCalendar && written.length > 0 && (
          <button type="button" className="button" disabled={remove.isPending} onClick={undo}>
            {t('accept.undo')}
          </button>
        )}
      </p>
      <div role="status">
        {isInCalendar && (
          <p>
            <strong>{t('accept.written', { count: written.length })}</strong>{' '}
            {(write.data?.present ?? 0) > 0 && t('accept.present', { count: write.data?.present ?? 0 })}
          </p>
        )}
        {remove.isSuccess && (
          <p>
            {t('accept.removed', { count: remove.data.removed })}{' '}
            {remove.data.kept.length > 0 &&
              t('accept.kept', {
                lifts: remove.data.kept.map(({ boat, on }) => `${boat} (${sayDay(on)})`).join(', '),
              })}
          </p>
        )}
      </div>
      {failed !== null && (
        <p className="field-wrong" role="alert">
          <span>{failed.message}</span>
        </p>
      )}
    </section>
  )
}
