import { MASS_UNITS, type MassUnit } from '../../../contract/vocabulary.js'
import type { AnodeDraft } from '../haul-out/draft.js'
import { Keypad } from './keypad.js'
import { useLiftWords } from './lift-words.js'
import { pressed } from './typing.js'

interface MassPadProps {
  typed: AnodeDraft
  unit: MassUnit
  change: (part: Partial<AnodeDraft>) => void
}

/** The mass as the scale shows it, large, with keys for wet thumbs. */
export function MassPad({ typed, unit, change }: MassPadProps) {
  const t = useLiftWords()
  return (
    <div className="pad">
      <div className="pad-head">
        <output className="pad-figure" aria-label={t('anode.mass')}>
          {typed.mass === '' ? <span className="pad-empty">0</span> : typed.mass}
        </output>
        <fieldset className="pad-units">
          <legend className="unseen">{t('anode.unit')}</legend>
          {MASS_UNITS.map((each) => (
            <label key={each} className="segment">
              <input type="radio" name="unit" checked={each === unit} onChange={() => change({ unit: each })} />
              <span>{each}</span>
            </label>
          ))}
        </fieldset>
      </div>
      <Keypad onKey={(key) => change({ mass: pressed(typed.mass, key) })} />
    </div>
  )
}
