import { useMutation, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useId, useState } from 'react'
import type { BoatView } from '../../../contract/boats.js'
import type { HaulOutView } from '../../../contract/haul-outs.js'
import { useBerths } from '../../api/boats.js'
import { logHaulOut, readAgain } from '../../api/haul-outs.js'
import { useStays } from '../../api/readings.js'
import { newKey } from '../../api/request-key.js'
import { sayDay } from '../../wording/days.js'
import { t } from './boat-words.js'

interface RelaunchFormProps {
  boat: Pick<BoatView, 'name' | 'ashore' | 'currentBerth'>
  /** The last lift, of which nobody has said when it ended. */
  lift: HaulOutView
  asOf: string
  /** With the job that makes the forecasts anew; none where all of it was on record already. */
  onSaved: (refit: string | undefined) => void
}

/** Says of a lift that it is over: since when the boat is in the water again, and where. Sent as a second log of that day, which completes the first. */
export function RelaunchForm({ boat, lift, asOf, onSaved }: RelaunchFormProps) {
  const id = useId()
  const berths = useBerths()
  const lastBerth = useStays(boat.name).data?.findLast(({ berth }) => berth !== null)?.berth ?? null
  const [chosen, setChosen] = useState<string | null>(null)
  // Most boats go back to where they lay.
  const berth = chosen ?? boat.currentBerth ?? lastBerth ?? ''
  const queries = useQueryClient()
  const [key, setKey] = useState(newKey)
  const write = useMutation({
    mutationFn: ({ relaunchedOn, berth }: { relaunchedOn: string; berth: string }) =>
      logHaulOut(boat.name, { hauledOn: lift.hauledOn, relaunchedOn, relaunch: { berth } }, key),
    onSuccess: ({ refit }) => {
      readAgain(queries)
      onSaved(refit?.id)
    },
    // Another try may say something else: a key stands for one request.
    onError: () => setKey(newKey()),
  })
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    const given = new FormData(event.currentTarget)
    write.mutate({ relaunchedOn: String(given.get('on')), berth })
  }
  const heading = t('relaunch.heading', { day: sayDay(lift.hauledOn) })
  if (berths.data === undefined || berths.data.length === 0) return null
  return (
    // Of a lift long ago nobody may know: it only stands open where the boat is told to be ashore.
    <details className="fold" open={boat.ashore === true}>
      <summary>{heading}</summary>
      <p className="soft small">{t(boat.ashore ? 'relaunch.ashoreHint' : 'relaunch.hint')}</p>
      <form className="plan-lift" onSubmit={submit} aria-label={heading}>
        <div className="field">
          <label htmlFor={`${id}-on`}>{t('relaunch.day')}</label>
          <input
            id={`${id}-on`}
            name="on"
            type="date"
            required
            min={lift.hauledOn}
            max={asOf}
            defaultValue={asOf}
            aria-invalid={write.isError}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-berth`}>{t('relaunch.berth')}</label>
          <select id={`${id}-berth`} value={berth} required onChange={({ target }) => setChosen(target.value)}>
            {berth === '' && <option value="">–</option>}
            {berths.data.map(({ name }) => (
              <option key={name} value={name}>
                {name}
              </option>
            ))}
          </select>
        </div>
        <button type="submit" className="button" disabled={write.isPending}>
          {t('relaunch.save')}
        </button>
        {write.isError && (
          <p className="field-wrong" role="alert">
            {write.error.message}
          </p>
        )}
      </form>
    </details>
  )
}
