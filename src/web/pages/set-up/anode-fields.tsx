import { ALLOYS, type MassUnit, POSITION_KINDS } from '../../../contract/vocabulary.js'
import { SHAPES } from '../../../engine/depletion/shapes.js'
import { sayWord } from '../../wording/spoken.js'
import { capital, sayShape } from '../../wording/things.js'
import { ChoiceField, TextField } from './fields.js'
import type { AnodeEntry } from './form-files.js'
import { useSetUpWords } from './set-up-words.js'

export type TypedAnode = Omit<AnodeEntry, 'boat' | 'name'> & {
  /** null where nobody typed one: it goes by where the anode sits. */
  readonly name: string | null
}

interface AnodeFieldsProps {
  typed: TypedAnode
  name: string
  unit: MassUnit
  /** Why something was refused, by column. */
  wrong: Readonly<Record<string, string>>
  change: (part: Partial<TypedAnode>) => void
}

export function AnodeFields(props: AnodeFieldsProps) {
  return (
    <>
      <div className="set-up-fields">
        <PlaceFields {...props} />
        <PieceFields {...props} />
      </div>
      <SizeFields {...props} />
    </>
  )
}

function PlaceFields({ typed, name, wrong, change }: AnodeFieldsProps) {
  const t = useSetUpWords()
  return (
    <>
      <ChoiceField
        label={t('anodes.place')}
        hint={t('anodes.placeHint')}
        none={t('anodes.choose')}
        isNeeded
        value={typed.kind}
        choices={POSITION_KINDS.map((kind) => [kind, capital(sayWord(`position.${kind}`))] as const)}
        wrong={wrong.position}
        onChange={(kind) => change({ kind })}
      />
      <TextField
        label={t('anodes.where')}
        hint={t('anodes.whereHint')}
        value={typed.where}
        onChange={(where) => change({ where })}
      />
      <TextField
        label={t('anodes.name')}
        hint={t('anodes.nameHint')}
        isNeeded
        value={name}
        wrong={wrong.anode}
        onChange={(text) => change({ name: text })}
      />
    </>
  )
}

function PieceFields({ typed, unit, wrong, change }: AnodeFieldsProps) {
  const t = useSetUpWords()
  return (
    <>
      <ChoiceField
        label={t('anodes.alloy')}
        none={t('unknown')}
        value={typed.alloy}
        choices={ALLOYS.map((alloy) => [alloy, capital(sayWord(`alloy.${alloy}`))] as const)}
        wrong={wrong.alloy}
        onChange={(alloy) => change({ alloy })}
      />
      <ChoiceField
        label={t('anodes.shape')}
        none={t('unknown')}
        value={typed.shape}
        choices={SHAPES.map(({ shape }) => [shape, capital(sayShape(shape) ?? shape)] as const)}
        wrong={wrong.shape}
        onChange={(shape) => change({ shape })}
      />
      <TextField
        label={t('anodes.mass', { unit })}
        hint={t('anodes.massHint')}
        inputMode="decimal"
        value={typed.grossMass}
        wrong={wrong.gross_mass_g}
        onChange={(grossMass) => change({ grossMass })}
      />
      <TextField
        label={t('anodes.fittedOn')}
        type="date"
        value={typed.fittedOn}
        wrong={wrong.fitted_on}
        onChange={(fittedOn) => change({ fittedOn })}
      />
    </>
  )
}

/** What few know of an anode; open where something of it was refused. */
function SizeFields({ typed, unit, wrong, change }: AnodeFieldsProps) {
  const t = useSetUpWords()
  const isWrong = ['core_mass_g', 'length_mm', 'width_mm', 'height_mm'].some((column) => wrong[column] !== undefined)
  return (
    <details className="fold" open={isWrong || undefined}>
      <summary>{t('anodes.more')}</summary>
      <div className="set-up-fields">
        <TextField
          label={t('anodes.core', { unit })}
          hint={t('anodes.coreHint')}
          inputMode="decimal"
          value={typed.coreMass}
          wrong={wrong.core_mass_g}
          onChange={(coreMass) => change({ coreMass })}
        />
        <TextField
          label={t('anodes.length')}
          inputMode="decimal"
          value={typed.lengthMm}
          wrong={wrong.length_mm}
          onChange={(lengthMm) => change({ lengthMm })}
        />
        <TextField
          label={t('anodes.width')}
          inputMode="decimal"
          value={typed.widthMm}
          wrong={wrong.width_mm}
          onChange={(widthMm) => change({ widthMm })}
        />
        <TextField
          label={t('anodes.height')}
          inputMode="decimal"
          value={typed.heightMm}
          wrong={wrong.height_mm}
          onChange={(heightMm) => change({ heightMm })}
        />
      </div>
    </details>
  )
}
