import { useState } from 'react'
import type { AnodeView } from '../../../contract/anodes.js'
import type { AnodeDraft } from '../haul-out/draft.js'
import { Keypad } from './keypad.js'
import { useLiftWords } from './lift-words.js'
import { pressed } from './typing.js'

const FIELDS = ['lengthMm', 'widthMm', 'heightMm'] as const

interface CaliperPadProps {
  anode: AnodeView
  typed: AnodeDraft
  change: (part: Partial<AnodeDraft>) => void
}

/** Dimensions left, one after the other on the same keys. */
export function CaliperPad({ anode, typed, change }: CaliperPadProps) {
  const t = useLiftWords()
  const [field, setField] = useState<(typeof FIELDS)[number]>('lengthMm')
  return (
    <div className="pad">
      <div className="pad-sizes">
        {FIELDS.map((each) => {
          const whenNew = anode[each]
          return (
            <label key={each} className="pad-size">
              <input type="radio" name="size" checked={each === field} onChange={() => setField(each)} />
              <span className="pad-size-box">
                <span className="small">{t(`anode.${each}`)}</span>
                <strong>{typed[each] === '' ? '–' : `${typed[each]} mm`}</strong>
                <span className="small soft">{whenNew === null ? ' ' : t('anode.whenNew', { mm: whenNew })}</span>
              </span>
            </label>
          )
        })}
      </div>
      <Keypad onKey={(key) => change({ [field]: pressed(typed[field], key) })} />
    </div>
  )
}
