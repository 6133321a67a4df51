import { type FormEvent, useState } from 'react'
import { EntryField } from '../../haul-out/entry-field.js'
import { ChoiceField } from '../fields.js'
import { useDrawingWords } from './drawing-words.js'
import { type Harbour, isBerthNamed, type Whereabouts } from './harbour.js'
import type { Step } from './steps.js'

interface BerthPanelProps {
  readonly harbour: Harbour
  readonly found: Whereabouts
  readonly onStep: (step: Step) => void
}

/** All that can be done to a berth, without a drag. */
export function BerthPanel({ harbour, found, onStep }: BerthPanelProps) {
  const t = useDrawingWords()
  const { berth } = found
  return (
    <fieldset className="berth-panel stack">
      <legend>{t('berth.heading', { name: berth.name })}</legend>
      {found.pontoon && <Places found={found} onStep={onStep} />}
      <ToPontoon harbour={harbour} found={found} onStep={onStep} />
      {found.pontoon && <Rename key={berth.key} harbour={harbour} found={found} onStep={onStep} />}
      <p className="chips">
        {found.pontoon && (
          <button
            type="button"
            className="button"
            onClick={() => onStep({ kind: 'take-berth', berth: berth.key })}
            hidden={berth.isNew}
          >
            {t('berth.take')}
          </button>
        )}
        {!berth.hasStays && (
          <button type="button" className="button" onClick={() => onStep({ kind: 'remove-berth', berth: berth.key })}>
            {t('berth.remove')}
          </button>
        )}
      </p>
      {berth.hasStays && <p className="field-hint">{t('berth.stays')}</p>}
    </fieldset>
  )
}

type Placed = Extract<Whereabouts, { readonly index: number }>

function Places({
  found: { berth, pontoon, side, index },
  onStep,
}: Pick<BerthPanelProps, 'onStep'> & { found: Placed }) {
  const t = useDrawingWords()
  const other = side === 'left' ? 'right' : 'left'
  const put = (to: typeof side, at: number) => () =>
    onStep({ kind: 'put-berth', berth: berth.key, pontoon: pontoon.key, side: to, index: at })
  return (
    <p className="chips">
      {/* Not disabled at the ends: whoever stands on it by keyboard would lose their place. */}
      <button
        type="button"
        className="button"
        aria-disabled={index === 0}
        onClick={index === 0 ? undefined : put(side, index - 1)}
      >
        {t('berth.inwards')}
      </button>
      <button
        type="button"
        className="button"
        aria-disabled={index >= pontoon[side].length - 1}
        onClick={index >= pontoon[side].length - 1 ? undefined : put(side, index + 1)}
      >
        {t('berth.outwards')}
      </button>
      <button type="button" className="button" onClick={put(other, index)}>
        {t('berth.across')}
      </button>
    </p>
  )
}

/** Its end is where a berth comes to; from there it goes place by place. */
function ToPontoon({ harbour: { pontoons }, found, onStep }: BerthPanelProps) {
  const t = useDrawingWords()
  const others = pontoons.filter(({ key }) => key !== found.pontoon?.key)
  if (others.length === 0) return null
  return (
    <ChoiceField
      label={t('berth.to')}
      none={t('berth.stay')}
      value=""
      choices={others.map(({ key, name }) => [key, name] as const)}
      onChange={(pontoon) => {
        const onto = others.find(({ key }) => key === pontoon)
        if (onto === undefined) return
        const side = onto.left.length <= onto.right.length ? 'left' : 'right'
        onStep({ kind: 'put-berth', berth: found.berth.key, pontoon, side, index: onto[side].length })
      }}
    />
  )
}

function Rename({ harbour, found: { berth }, onStep }: BerthPanelProps) {
  const t = useDrawingWords()
  const [name, setName] = useState(berth.name)
  const trimmed = name.trim()
  const isTaken = trimmed !== berth.name && isBerthNamed(harbour, trimmed)
  const rename = (event: FormEvent) => {
    event.preventDefault()
    if (trimmed !== '' && trimmed !== berth.name && !isTaken) {
      onStep({ kind: 'rename-berth', berth: berth.key, name: trimmed })
    }
  }
  return (
    <form className="drawing-row" onSubmit={rename} noValidate>
      <EntryField
        label={t('berth.name')}
        value={name}
        wrong={isTaken ? t('wrong.taken') : undefined}
        onChange={setName}
      />
      <button type="submit" className="button">
        {t('berth.rename')}
      </button>
    </form>
  )
}
