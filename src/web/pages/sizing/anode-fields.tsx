import { ANODE_ALLOYS } from '../../../engine/reference/vocabulary.js'
import { Caution } from '../../shell/caution.js'
import { sayWord } from '../../wording/spoken.js'
import { temperatureUnit } from '../../wording/temperature.js'
import { capital } from '../../wording/things.js'
import { Segments } from '../haul-out/choices.js'
import { type FieldsProps, FigureField } from './figure-field.js'
import { saySuits, useSizingWords } from './sizing-words.js'

/** How long the anodes shall last, and in which water. */
export function WaterFields(props: FieldsProps) {
  const t = useSizingWords()
  const { draft, change } = props
  return (
    <section className="panel stack" aria-labelledby="water">
      <h2 id="water">{t('water.heading')}</h2>
      <FigureField {...props} field="years" label={t('water.life')} unit={t('water.years')} />
      <Segments
        label={t('water.by')}
        value={draft.waterBy}
        choices={[
          ['salinity', t('water.salinity')],
          ['resistivity', t('water.resistivity')],
        ]}
        onChange={(waterBy) => change({ waterBy })}
      />
      {draft.waterBy === 'salinity' ? (
        <div className="two-always">
          <FigureField {...props} field="salinityPsu" label={t('water.salinity')} unit="psu" hint={t('water.sea')} />
          <FigureField {...props} field="temperature" label={t('water.temperature')} unit={`°${temperatureUnit()}`} />
        </div>
      ) : (
        <FigureField
          {...props}
          field="resistivityOhmM"
          label={t('water.resistivity')}
          unit="Ω·m"
          hint={t('water.fresh')}
        />
      )}
    </section>
  )
}

/** One anode when new: its alloy, shape and size. */
export function AnodeFields(props: FieldsProps) {
  const t = useSizingWords()
  const { draft, change } = props
  return (
    <section className="panel stack" aria-labelledby="one-anode">
      <h2 id="one-anode">{t('anode.heading')}</h2>
      <div className="stack-tight">
        <Segments
          label={t('anode.alloy')}
          value={draft.alloy}
          choices={ANODE_ALLOYS.map((alloy) => [alloy, capital(sayWord(`alloy.${alloy}`))] as const)}
          onChange={(alloy) => change({ alloy })}
        />
        <p className="field-hint">{capital(saySuits(draft.alloy, t))}</p>
      </div>
      {draft.alloy === 'magnesium' && (
        <Caution grade="stop">
          <strong>{t('magnesium.lead')}</strong> {t('magnesium.text')}
        </Caution>
      )}
      <Segments
        label={t('anode.shape')}
        value={draft.shape}
        choices={[
          ['other', t('anode.other')],
          ['plate', t('anode.plate')],
          ['rod', t('anode.rod')],
        ]}
        onChange={(shape) => change({ shape })}
      />
      <SizeFields {...props} />
    </section>
  )
}

function SizeFields(props: FieldsProps) {
  const t = useSizingWords()
  if (props.draft.shape === 'other') {
    return (
      <div className="two-always">
        <FigureField {...props} field="massG" label={t('anode.mass')} unit="g" hint={t('anode.massHint')} />
        <FigureField
          {...props}
          field="exposedCm2"
          label={t('anode.surface')}
          unit="cm²"
          hint={t('anode.surfaceHint')}
        />
      </div>
    )
  }
  if (props.draft.shape === 'plate') {
    return (
      <div className="three">
        <FigureField {...props} field="lengthMm" label={t('anode.length')} unit="mm" />
        <FigureField {...props} field="widthMm" label={t('anode.width')} unit="mm" />
        <FigureField {...props} field="thicknessMm" label={t('anode.thickness')} unit="mm" />
      </div>
    )
  }
  return (
    <div className="two-always">
      <FigureField {...props} field="lengthMm" label={t('anode.length')} unit="mm" />
      <FigureField {...props} field="diameterMm" label={t('anode.diameter')} unit="mm" />
      <FigureField {...props} field="coreDiameterMm" label={t('anode.core')} unit="mm" hint={t('anode.coreHint')} />
      <FigureField {...props} field="distanceMm" label={t('anode.distance')} unit="mm" hint={t('anode.distanceHint')} />
    </div>
  )
}
