import { ANODE_CONDITIONS, type Condition, METAL_CONDITIONS } from '../../../contract/vocabulary.js'
import { ConditionPicture } from './condition-picture.js'
import { useLiftWords } from './lift-words.js'

interface ConditionFieldProps {
  values: readonly Condition[]
  change: (values: Condition[]) => void
}

/** What the anode and the metal round it look like, each by a small picture. */
export function ConditionField({ values, change }: ConditionFieldProps) {
  const t = useLiftWords()
  return (
    <>
      <Pictures label={t('anode.looks')} choices={ANODE_CONDITIONS} values={values} change={change} />
      <Pictures label={t('anode.metal')} choices={METAL_CONDITIONS} values={values} change={change} />
    </>
  )
}

function Pictures({
  label,
  choices,
  values,
  change,
}: ConditionFieldProps & { label: string; choices: readonly Condition[] }) {
  const t = useLiftWords()
  const toggle = (code: Condition) =>
    change(values.includes(code) ? values.filter((other) => other !== code) : [...values, code])
  return (
    <fieldset className="field">
      <legend>{label}</legend>
      <div className="looks">
        {choices.map((code) => (
          <label key={code} className="look">
            <input type="checkbox" checked={values.includes(code)} onChange={() => toggle(code)} />
            <span>
              <ConditionPicture code={code} />
              {t(`condition.${code}`, { ns: 'words' })}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}
