import { lazy, Suspense, useState } from 'react'
import { Link, useSearchParams } from 'react-router'
import { useMe } from '../../api/session.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Waiting } from '../../shell/waiting.js'
import { Segments } from '../haul-out/choices.js'
import { AnodesForm } from './anodes-form.js'
import { BerthsForm } from './berths-form.js'
import { BoatForm } from './boat-form.js'
import { FilesPanel } from './files-panel.js'
import { useSetUpWords } from './set-up-words.js'
import './set-up.css'

/** A drawing is much to load for whoever has none. */
const DrawingPanel = lazy(() => import('./drawing/drawing-panel.js'))

type Way = 'form' | 'file' | 'drawing'

/** A newcomer's start: berths, boats and anodes by form, by files or by drawing the pontoons, then labels. */
export default function FleetSetUpPage() {
  useAreas('set-up', 'words')
  const t = useSetUpWords()
  const me = useMe()
  const [query] = useSearchParams()
  const [way, setWay] = useState<Way>(query.get('way') === 'drawing' ? 'drawing' : 'form')
  const asked = query.get('boat') ?? ''
  const [boat, setBoat] = useState(asked)
  const may = me.data?.permissions.includes('fleet:import') ?? false
  const mayDraw = me.data?.permissions.includes('pontoons:draw') ?? false
  return (
    <div className="page set-up">
      <title>{`${t('title')} · Anode Ledger`}</title>
      <div>
        <Link to="/settings" className="back">
          ‹ {t('back')}
        </Link>
        <h1>{t('title')}</h1>
        {may && <p className="soft">{t('intro')}</p>}
      </div>
      {!may && <p className="panel">{t('notYours')}</p>}
      {may && (
        <>
          <Segments<Way>
            label={t('ways')}
            value={way}
            choices={[
              ['form', t('byForm')],
              ['file', t('byFile')],
              ...(mayDraw ? ([['drawing', t('byDrawing')]] as const) : []),
            ]}
            onChange={setWay}
          />
          {/* Both stay, so that nothing typed or mended is lost by a look at the other. */}
          <div className="stack" hidden={way !== 'form'}>
            <BerthsForm />
            <BoatForm onBoatAdded={setBoat} />
            <AnodesForm boat={boat} onBoat={setBoat} isAskedFor={asked !== ''} />
          </div>
          <div hidden={way !== 'file'}>
            <FilesPanel />
          </div>
          {way === 'drawing' && mayDraw && (
            <Suspense fallback={<Waiting />}>
              <DrawingPanel />
            </Suspense>
          )}
          <section className="panel stack">
            <h2>{t('labels.title')}</h2>
            <p>{t('labels.text')}</p>
            <p>
              <Link className="button" to="/set-up/labels">
                {t('labels.open')}
              </Link>
            </p>
          </section>
        </>
      )}
    </div>
  )
}
