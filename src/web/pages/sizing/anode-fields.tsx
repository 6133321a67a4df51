import { ANODE_ALLOYS } from '../../../engine/reference/vocabulary.js'
import { Caution } from '../../shell/caution.js'
import { capital } from '../../wording/things.js'
import { Segments } from '../haul-out/choices.js'
import { type FieldsProps, FigureField } from './figure-field.js'
import { saySuits } from './sizing-words.js'

/** How long the anodes shall last, and in which water. */
export function WaterFields(props: FieldsProps) {
  const { draft, change } = props
  return (
    <section className="panel stack" aria-labelledby="water">
      <h2 id="water">Life and water</h2>
      <FigureField {...props} field="years" label="Life wanted" unit="years" />
      <Segments
        label="Water told by"
        value={draft.waterBy}
        choices={[
          ['salinity', 'Salinity'],
          ['resistivity', 'Resistivity'],
        ]}
        onChange={(waterBy) => change({ waterBy })}
      />
      {draft.waterBy === 'salinity' ? (
        <div className="two-always">
          <FigureField {...props} field="salinityPsu" label="Salinity" unit="psu" hint="The open sea has about 35." />
          <FigureField {...props} field="temperatureC" label="Temperature" unit="°C" />
        </div>
      ) : (
        <FigureField
          {...props}
          field="resistivityOhmM"
          label="Resistivity"
          unit="Ω·m"
          hint="Of fresh water it must be measured: rivers and lakes run from about 10 to 100 Ω·m."
        />
      )}
    </section>
  )
}

/** One anode when new: its alloy, shape and size. */
export function AnodeFields(props: FieldsProps) {
  const { draft, change } = props
  return (
    <section className="panel stack" aria-labelledby="one-anode">
      <h2 id="one-anode">One anode, new</h2>
      <div className="stack-tight">
        <Segments
          label="Alloy"
          value={draft.alloy}
          choices={ANODE_ALLOYS.map((alloy) => [alloy, capital(alloy)] as const)}
          onChange={(alloy) => change({ alloy })}
        />
        <p className="field-hint">{capital(saySuits(draft.alloy))}</p>
      </div>
      {draft.alloy === 'magnesium' && (
        <Caution grade="stop">
          <strong>Magnesium does harm in salt water.</strong> It drives aluminium and wood beyond what they bear and is
          itself gone in weeks.
        </Caution>
      )}
      <Segments
        label="Shape"
        value={draft.shape}
        choices={[
          ['other', 'Collar, disc'],
          ['plate', 'Plate'],
          ['rod', 'Rod, held off'],
        ]}
        onChange={(shape) => change({ shape })}
      />
      <SizeFields {...props} />
    </section>
  )
}

function SizeFields(props: FieldsProps) {
  if (props.draft.shape === 'other') {
    return (
      <div className="two-always">
        <FigureField {...props} field="massG" label="Net mass" unit="g" hint="Without its core." />
        <FigureField {...props} field="exposedCm2" label="Surface" unit="cm²" hint="That the water reaches." />
      </div>
    )
  }
  if (props.draft.shape === 'plate') {
    return (
      <div className="three">
        <FigureField {...props} field="lengthMm" label="Length" unit="mm" />
        <FigureField {...props} field="widthMm" label="Width" unit="mm" />
        <FigureField {...props} field="thicknessMm" label="Thickness" unit="mm" />
      </div>
    )
  }
  return (
    <div className="two-always">
      <FigureField {...props} field="lengthMm" label="Length" unit="mm" />
      <FigureField {...props} field="diameterMm" label="Diameter" unit="mm" />
      <FigureField {...props} field="coreDiameterMm" label="Core, diameter" unit="mm" hint="0 without a core." />
      <FigureField {...props} field="distanceMm" label="To the metal" unit="mm" hint="At least 150." />
    </div>
  )
}
