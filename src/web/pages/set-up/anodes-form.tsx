import { type FormEvent, useEffect, useId, useRef, useState } from 'react'
import type { ImportAnswer } from '../../../contract/imports.js'
import { useAnodesOfBoat, useYourBoats } from '../../api/boats.js'
import { useAdd } from '../../api/imports.js'
import { keptPreferences } from '../../i18n/preferences.js'
import { localToday } from '../../wording/days.js'
import { sayPosition } from '../../wording/things.js'
import { AdditionState } from './addition.js'
import { AnodeFields, type TypedAnode } from './anode-fields.js'
import { freeName, placeLabel } from './anode-place.js'
import { AnodesOnBoat } from './anodes-on-boat.js'
import { ChoiceField } from './fields.js'
import { type AnodeEntry, anodeFiles } from './form-files.js'
import { wrongByColumn } from './import-errors.js'
import { useSetUpWords } from './set-up-words.js'

/** The columns that the form has a field for. */
const AT_FIELDS = [
  'boat',
  'anode',
  'position',
  'alloy',
  'shape',
  'fitted_on',
  'gross_mass_g',
  'core_mass_g',
  'length_mm',
  'width_mm',
  'height_mm',
]

/** What differs from one anode of a boat to the next; the alloy and the day are mostly the same for all of them. */
const NEXT = {
  kind: '',
  where: '',
  name: null,
  shape: '',
  grossMass: '',
  coreMass: '',
  lengthMm: '',
  widthMm: '',
  heightMm: '',
} as const satisfies Partial<TypedAnode>

/** An anode that was added here: its name is taken before the boat's anodes are read anew. */
type Sent = Pick<AnodeEntry, 'boat' | 'name'>

interface AnodesFormProps {
  boat: string
  onBoat: (name: string) => void
  /** Whoever came for this form is brought to it. */
  isAskedFor: boolean
}

/** The anodes of a boat, one after the other. */
export function AnodesForm({ boat, onBoat, isAskedFor }: AnodesFormProps) {
  const t = useSetUpWords()
  const id = useId()
  const adding = useAdd()
  const anodes = useAnodesOfBoat(boat).data ?? []
  const [typed, setTyped] = useState<TypedAnode>(() => ({ ...NEXT, alloy: '', fittedOn: localToday(new Date()) }))
  const unit = keptPreferences().massUnit ?? 'g'
  const [sent, setSent] = useState<readonly Sent[]>([])
  const taken = [...anodes, ...sent.filter((one) => one.boat === boat)].map((anode) => anode.name)
  const name = typed.name ?? freeName(sayPosition(placeLabel(typed.kind, typed.where)), taken)
  const wrong = wrongByColumn(adding.error)
  const change = (part: Partial<TypedAnode>) => setTyped((before) => ({ ...before, ...part }))
  const onAdded = () => change(NEXT)
  const submit = (event: FormEvent) => {
    event.preventDefault()
    const anode = { boat, name: name.trim() }
    const onSuccess = ({ dryRun }: ImportAnswer) => {
      if (dryRun) return
      onAdded()
      setSent((before) => [...before, anode])
    }
    adding.mutate({ files: anodeFiles({ ...typed, ...anode }, unit), existing: 'tell' }, { onSuccess })
  }
  return (
    <form className="panel stack" aria-labelledby={id} onSubmit={submit}>
      <Heading id={id} isAskedFor={isAskedFor} />
      <BoatChoice boat={boat} wrong={wrong.boat} onBoat={onBoat} />
      <AnodeFields typed={typed} name={name} unit={unit} wrong={wrong} change={change} />
      <AdditionState adding={adding} onAdded={onAdded} atFields={AT_FIELDS} />
      <button type="submit" className="button button-main" disabled={adding.isPending}>
        {t('anodes.add')}
      </button>
      <AnodesOnBoat boat={boat} anodes={anodes} />
    </form>
  )
}

function Heading({ id, isAskedFor }: { id: string; isAskedFor: boolean }) {
  const t = useSetUpWords()
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    if (!isAskedFor) return
    // A frame later: the shell takes a new page to its top first.
    const frame = requestAnimationFrame(() => {
      heading.current?.scrollIntoView()
      heading.current?.focus({ preventScroll: true })
    })
    return () => cancelAnimationFrame(frame)
  }, [isAskedFor])
  return (
    <h2 id={id} ref={heading} tabIndex={-1}>
      {t('anodes.heading')}
    </h2>
  )
}

interface BoatChoiceProps {
  boat: string
  wrong: string | undefined
  onBoat: (name: string) => void
}

function BoatChoice({ boat, wrong, onBoat }: BoatChoiceProps) {
  const t = useSetUpWords()
  const boats = useYourBoats()
  // The one just added is chosen before the list of boats is read anew.
  const names = [...new Set([...(boats.data ?? []).map(({ name }) => name), ...(boat === '' ? [] : [boat])])]
  return (
    <div className="set-up-fields">
      <ChoiceField
        label={t('anodes.boat')}
        none={t('anodes.choose')}
        isNeeded
        value={boat}
        choices={names.map((name) => [name, name] as const)}
        wrong={wrong}
        onChange={onBoat}
      />
    </div>
  )
}
