import { Link } from 'react-router'
import { useModel } from '../../api/model.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { sayDay } from '../../wording/days.js'
import { Learned } from './learned.js'
import { t } from './model-words.js'
import { Standouts } from './standouts.js'
import { TrackRecord } from './track-record.js'
import './model.css'

/** How far the dates can be trusted: past forecasts against what came, and what the fit has learned. */
export default function ModelPage() {
  useAreas('model', 'words')
  const model = useModel()
  return (
    <div className="page">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <header className="stack-tight">
        <Link className="back" to="/">
          ‹ {t('back')}
        </Link>
        <h1>{t('heading')}</h1>
        {model.data && (
          <p className="soft">
            {t('fitted', {
              day: sayDay(model.data.asOf),
              intervals: t('intervals', { count: model.data.intervals }),
              anodes: t('anodes', { count: model.data.anodes }),
              boats: t('boats', { count: model.data.boats }),
            })}
          </p>
        )}
      </header>
      {model.isPending && <Waiting />}
      {model.isError && <Trouble error={model.error} retry={model.refetch} />}
      {model.data === null && <p className="panel">{t('nothing')}</p>}
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
