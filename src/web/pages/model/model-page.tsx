import { Link } from 'react-router'
import { useModel } from '../../api/model.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { count, sayDay } from '../../wording/days.js'
import { Learned } from './learned.js'
import { Standouts } from './standouts.js'
import { TrackRecord } from './track-record.js'
import './model.css'

/** How far the dates can be trusted: past forecasts against what came, and what the fit has learned. */
export default function ModelPage() {
  const model = useModel()
  return (
    <div className="page">
      <title>Track record · Anode Ledger</title>
      <header className="stack-tight">
        <Link className="back" to="/">
          ‹ Fleet
        </Link>
        <h1>How far to trust the dates</h1>
        {model.data && (
          <p className="soft">
            Fitted {sayDay(model.data.asOf)} to {count(model.data.intervals, 'interval')} between weighings,{' '}
            {count(model.data.anodes, 'anode')} on {count(model.data.boats, 'boat')}.
          </p>
        )}
      </header>
      {model.isPending && <Waiting />}
      {model.isError && <Trouble error={model.error} retry={model.refetch} />}
      {model.data === null && (
        <p className="panel">
          Nothing has been fitted yet: import a fleet or log a haul-out, and look again in a minute.
        </p>
      )}
      {model.data && (
        <>
          <TrackRecord calibration={model.data.calibration} />
          <Standouts model={model.data} />
          <Learned model={model.data} />
        </>
      )}
    </div>
  )
}
