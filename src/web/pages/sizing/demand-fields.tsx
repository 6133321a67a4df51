import { useId } from 'react'
import { COATINGS, PROTECTED_SURFACES, takesCoating } from '../../../engine/sizing/protection-current.js'
import { Segments } from '../haul-out/choices.js'
import { EntryField } from '../haul-out/entry-field.js'
import { areaField } from './answer-of.js'
import { type FieldsProps, FigureField } from './figure-field.js'
import { type AreaDraft, withArea } from './sizing-draft.js'
import { SURFACE_GROUPS, saySurface, sayWrong, useSizingWords } from './sizing-words.js'

/** What the anodes are to protect: surfaces, or a current known from elsewhere. */
export function DemandFields(props: FieldsProps) {
  const t = useSizingWords()
  const { draft, change } = props
  return (
    <section className="panel stack" aria-labelledby="demand">
      <h2 id="demand">{t('demand.heading')}</h2>
      <Segments
        label={t('demand.by')}
        value={draft.demand}
        choices={[
          ['areas', t('demand.areas')],
          ['current', t('demand.current')],
        ]}
        onChange={(demand) => change({ demand })}
      />
      {draft.demand === 'current' ? (
        <div className="three">
          <FigureField {...props} field="initialA" label={t('demand.initial')} unit="A" />
          <FigureField {...props} field="meanA" label={t('demand.mean')} unit="A" />
          <FigureField {...props} field="finalA" label={t('demand.final')} unit="A" />
        </div>
      ) : (
        <AreaList {...props} />
      )}
    </section>
  )
}

function AreaList({ draft, problems, change }: FieldsProps) {
  const t = useSizingWords()
  const changeArea = (id: number, part: Partial<AreaDraft>) =>
    change({ areas: draft.areas.map((area) => (area.id === id ? { ...area, ...part } : area)) })
  return (
    <>
      {draft.areas.map((area, index) => (
        <AreaFields
          key={area.id}
          area={area}
          name={t('demand.surface', { number: index + 1 })}
          wrong={sayWrong(problems.get(areaField(area.id)), t)}
          change={(part) => changeArea(area.id, part)}
          remove={() => change({ areas: draft.areas.filter(({ id }) => id !== area.id) })}
        />
      ))}
      <button type="button" className="button" onClick={() => change({ areas: withArea(draft.areas) })}>
        {t('demand.add')}
      </button>
    </>
  )
}

interface AreaFieldsProps {
  area: AreaDraft
  name: string
  wrong: string | undefined
  change: (part: Partial<AreaDraft>) => void
  remove: () => void
}

function AreaFields({ area, name, wrong, change, remove }: AreaFieldsProps) {
  const t = useSizingWords()
  const id = useId()
  return (
    <fieldset className="field surface">
      <legend className="unseen">{name}</legend>
      <div className="field">
        <label htmlFor={`${id}-surface`}>{name}</label>
        <select
          id={`${id}-surface`}
          value={area.surface}
          onChange={(event) => chosen(PROTECTED_SURFACES, event.target.value, (surface) => change({ surface }))}
        >
          {SURFACE_GROUPS.map(([group, surfaces]) => (
            <optgroup key={group} label={t(`group.${group}`)}>
              {surfaces.map((key) => (
                <option key={key} value={key}>
                  {saySurface(key, t)}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </div>
      <div className="surface-size">
        <EntryField
          label={t('demand.area')}
          type="number"
          unit="m²"
          value={area.areaM2}
          wrong={wrong}
          onChange={(areaM2) => change({ areaM2 })}
        />
        {takesCoating(area.surface) && <CoatingField area={area} change={change} />}
        <button type="button" className="button button-plain" onClick={remove}>
          {t('demand.remove')}
          <span className="unseen"> {name}</span>
        </button>
      </div>
    </fieldset>
  )
}

function CoatingField({ area, change }: Pick<AreaFieldsProps, 'area' | 'change'>) {
  const t = useSizingWords()
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{t('demand.coating')}</label>
      <select
        id={id}
        value={area.coating}
        onChange={(event) => chosen(COATINGS, event.target.value, (coating) => change({ coating }))}
      >
        {COATINGS.map((coating) => (
          <option key={coating} value={coating}>
            {t(`coating.${coating}`)}
          </option>
        ))}
      </select>
    </div>
  )
}

function chosen<Value extends string>(values: readonly Value[], text: string, take: (value: Value) => void): void {
  const value = values.find((each) => each === text)
  if (value !== undefined) take(value)
}
