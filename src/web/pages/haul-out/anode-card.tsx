import type { AnodeView } from '../../../contract/anodes.js'
import { ANODE_CONDITIONS, type Hull, type MassUnit, METAL_CONDITIONS } from '../../../contract/vocabulary.js'
import type { Forecast } from '../../api/forecasts.js'
import type { FieldProblem } from '../../api/problem.js'
import { Caution } from '../../shell/caution.js'
import { sayMassIn } from '../../wording/amounts.js'
import { sayDay } from '../../wording/days.js'
import { conditionWords, sayAlloy, sayConditions, sayPosition, sayShape } from '../../wording/things.js'
import { t as sayOfBoat } from '../boat/boat-words.js'
import { cautionsOfAlloy, cautionsOfConditions } from '../boat/cautions.js'
import { AnodeGauge } from '../fleet/anode-gauge.js'
import { Chips } from './choices.js'
import type { AnodeDraft } from './draft.js'
import { t } from './haul-out-words.js'
import { MeasureFields } from './measure-fields.js'
import { PhotoField } from './photo-field.js'
import { ReplacementFields } from './replacement-fields.js'

export interface AnodeCardProps {
  anode: AnodeView
  forecast: Forecast | undefined
  hull: Hull | null
  typed: AnodeDraft
  unit: MassUnit
  problems: readonly FieldProblem[]
  photos: readonly File[]
  change: (part: Partial<AnodeDraft>) => void
  changePhotos: (photos: File[]) => void
}

/** Fields with a place of their own; a problem anywhere else of the anode stands at the head of its card. */
const PLACED = /^(massG|lengthMm|widthMm|heightMm|wastedPercent|replacedBy\/(grossMassG|coreMassG|alloy|shape))$/

/** One anode at the lift: what it was, what it is now, what was done. */
export function AnodeCard(props: AnodeCardProps) {
  const { anode, forecast, typed, unit, problems, photos, change, changePhotos } = props
  const unplaced = problems.filter((problem) => !PLACED.test(problem.pointer))
  return (
    <section className="panel stack anode-card" aria-label={anode.name}>
      <header className="anode-head">
        <div>
          <h2>{anode.name}</h2>
          <p className="soft small">
            {[sayPosition(anode.position), sayAlloy(anode.alloy), sayShape(anode.shape)].filter(Boolean).join(', ')}
          </p>
        </div>
        {forecast && <AnodeGauge consumed={forecast.consumedNow} threshold={forecast.threshold} />}
      </header>
      <Before anode={anode} forecast={forecast} unit={unit} />
      {unplaced.map((problem) => (
        <p key={problem.detail} className="field-wrong">
          <span>{problem.detail}</span>
        </p>
      ))}
      <MeasureFields anode={anode} typed={typed} unit={unit} problems={problems} change={change} />
      <Looks typed={typed} change={change} />
      <ReplacementFields anode={anode} typed={typed} unit={unit} problems={problems} change={change} />
      <Cautions {...props} />
      <PhotoField anode={anode.name} photos={photos} onChange={changePhotos} />
    </section>
  )
}

function Before({ anode, forecast, unit }: Pick<AnodeCardProps, 'anode' | 'forecast' | 'unit'>) {
  const last = anode.lastWeighing
  return (
    <dl className="before">
      <div>
        <dt>{last ? t('last', { day: sayDay(last.weighedOn) }) : t('whenNew')}</dt>
        <dd>{sayLast(anode, unit)}</dd>
      </div>
      {forecast && (
        <div>
          <dt>{t('expected')}</dt>
          <dd>
            {sayMassIn(forecast.massNow.p50, unit)}{' '}
            <span className="soft small">
              {t('span', {
                from: sayMassIn(forecast.massNow.p10, unit),
                to: sayMassIn(forecast.massNow.p90, unit),
              })}
            </span>
          </dd>
        </div>
      )}
    </dl>
  )
}

function sayLast({ lastWeighing, grossMassG }: AnodeView, unit: MassUnit): string {
  if (lastWeighing?.massG != null) return sayMassIn(lastWeighing.massG, unit)
  if (lastWeighing?.wastedPercent != null) return t('wasted', { percent: lastWeighing.wastedPercent })
  if (lastWeighing) return t('byCalipers')
  return grossMassG === null ? t('notKnown') : sayMassIn(grossMassG, unit)
}

function Looks({ typed, change }: Pick<AnodeCardProps, 'typed' | 'change'>) {
  const { conditions } = typed
  const chosen = conditions.length === 0 ? t('looks') : t('looksAre', { looks: sayConditions(conditions) })
  return (
    <details className="fold">
      <summary>{chosen}</summary>
      <div className="stack">
        <Chips
          label={t('theAnode')}
          values={conditions}
          choices={ANODE_CONDITIONS}
          words={conditionWords()}
          onChange={(next) => change({ conditions: next })}
        />
        <Chips
          label={t('theMetal')}
          values={conditions}
          choices={METAL_CONDITIONS}
          words={conditionWords()}
          onChange={(next) => change({ conditions: next })}
        />
      </div>
    </details>
  )
}

function Cautions({ typed, hull }: Pick<AnodeCardProps, 'typed' | 'hull'>) {
  const alloy = typed.replacedBy?.alloy || null
  const cautions = [...cautionsOfConditions(typed.conditions), ...cautionsOfAlloy(alloy, hull, null)]
  return cautions.map(({ key, grade }) => (
    <Caution key={key} grade={grade}>
      <strong>{sayOfBoat(`caution.${key}.title`)}</strong> {sayOfBoat(`caution.${key}.text`)}
    </Caution>
  ))
}
