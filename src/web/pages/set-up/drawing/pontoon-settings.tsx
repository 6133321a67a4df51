import { type FormEvent, useState } from 'react'
import { sayNumber } from '../../../wording/locale.js'
import { parseNumber } from '../../../wording/typed-number.js'
import { EntryField } from '../../haul-out/entry-field.js'
import { useDrawingWords } from './drawing-words.js'
import { type Harbour, isPontoonNamed, type Line, type Pontoon } from './harbour.js'
import { headingOf, measureOf } from './new-pontoon.js'
import type { Step } from './steps.js'

interface PontoonSettingsProps {
  readonly harbour: Harbour
  readonly pontoon: Pontoon
  readonly onSteps: (...steps: Step[]) => void
}

/** What is done to a pontoon as a whole. */
export function PontoonSettings({ harbour, pontoon, onSteps }: PontoonSettingsProps) {
  const t = useDrawingWords()
  const { key, name } = pontoon
  const about = <span className="unseen"> {name}</span>
  return (
    <>
      <p className="chips">
        <button type="button" className="button" onClick={() => onSteps({ kind: 'turn-round', pontoon: key })}>
          <span>
            {t('settings.turn')}
            {about}
          </span>
        </button>
        <button type="button" className="button" onClick={() => onSteps({ kind: 'take-pontoon', pontoon: key })}>
          <span>
            {t('settings.take')}
            {about}
          </span>
        </button>
      </p>
      <details className="fold">
        <summary>
          <span>
            {t('settings.more')}
            {about}
          </span>
        </summary>
        <LineForm key={JSON.stringify([name, lineOf(pontoon)])} harbour={harbour} pontoon={pontoon} onSteps={onSteps} />
      </details>
    </>
  )
}

function lineOf({ shoreXM, shoreYM, headingDegrees, berthLengthM, berthWidthM }: Pontoon): Line {
  return { shoreXM, shoreYM, headingDegrees, berthLengthM, berthWidthM }
}

/** As far from the middle of the plan as the service has it [m]. */
const FARTHEST_M = 10_000
const asText = (value: number | null) => (value === null ? '' : sayNumber(value, Number.isInteger(value) ? 0 : 1))

function LineForm({ harbour, pontoon, onSteps }: PontoonSettingsProps) {
  const t = useDrawingWords()
  const [typed, setTyped] = useState({
    name: pontoon.name,
    x: asText(pontoon.shoreXM),
    y: asText(pontoon.shoreYM),
    heading: asText(pontoon.headingDegrees),
    length: asText(pontoon.berthLengthM),
    width: asText(pontoon.berthWidthM),
  })
  const [isTold, setTold] = useState(false)
  const name = typed.name.trim()
  const isRenamed = name !== pontoon.name
  const [x, y] = [placeOf(typed.x), placeOf(typed.y)]
  const heading = headingOf(typed.heading)
  const [length, width] = [measureOf(typed.length), measureOf(typed.width)]
  const wrong = {
    name: name === '' ? t('wrong.missing') : isRenamed && isPontoonNamed(harbour, name) ? t('wrong.taken') : undefined,
    x: x === null ? t('wrong.place') : undefined,
    y: y === null ? t('wrong.place') : undefined,
    heading: heading === null ? t('wrong.degrees') : undefined,
    length: Number.isNaN(length) ? t('wrong.metres') : undefined,
    width: Number.isNaN(width) ? t('wrong.metres') : undefined,
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    setTold(true)
    if (x === null || y === null || heading === null || Object.values(wrong).some(Boolean)) return
    const line = { shoreXM: x, shoreYM: y, headingDegrees: heading, berthLengthM: length, berthWidthM: width }
    const steps: Step[] = []
    if (isRenamed) steps.push({ kind: 'rename-pontoon', pontoon: pontoon.key, name })
    if (JSON.stringify(line) !== JSON.stringify(lineOf(pontoon))) {
      steps.push({ kind: 'set-line', pontoon: pontoon.key, line })
    }
    onSteps(...steps)
  }
  const field = (of: keyof typeof typed) => ({
    value: typed[of],
    wrong: isTold ? wrong[of] : undefined,
    onChange: (value: string) => setTyped((before) => ({ ...before, [of]: value })),
  })
  return (
    <form className="stack" onSubmit={submit} noValidate>
      <div className="set-up-fields">
        <EntryField label={t('add.name')} {...field('name')} />
        <EntryField label={t('line.x')} type="number" unit="m" {...field('x')} />
        <EntryField label={t('line.y')} type="number" unit="m" {...field('y')} />
        <EntryField
          label={t('line.heading')}
          type="number"
          unit="°"
          hint={t('line.headingHint')}
          {...field('heading')}
        />
        <EntryField label={t('line.length')} type="number" unit="m" {...field('length')} />
        <EntryField label={t('line.width')} type="number" unit="m" {...field('width')} />
      </div>
      <p>
        <button type="submit" className="button">
          {t('settings.apply')}
        </button>
      </p>
    </form>
  )
}

/** @returns null for what is no place on the plan */
function placeOf(text: string): number | null {
  const metres = parseNumber(text)
  return metres === null || !(Math.abs(metres) <= FARTHEST_M) ? null : metres
}
