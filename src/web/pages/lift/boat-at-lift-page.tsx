import { useQuery, useQueryClient } from '@tanstack/react-query'
import { Outlet, useOutletContext, useParams } from 'react-router'
import type { MassUnit } from '../../../contract/vocabulary.js'
import { ServiceProblem } from '../../api/problem.js'
import { keptPreferences } from '../../i18n/preferences.js'
import { photosOfDraft } from '../../offline/draft-photos.js'
import type { BoatAtLift } from '../../offline/held.js'
import type { StoredPhoto } from '../../offline/store.js'
import { useBoatAtLift } from '../../offline/use-held.js'
import { useOutbox } from '../../offline/use-outbox.js'
import { type AnodeDraft, UNTOUCHED } from '../haul-out/draft.js'
import { NO_PROBLEMS, type SortedProblems, sortProblems } from '../haul-out/field-problems.js'
import { useDraft } from '../haul-out/use-draft.js'
import { type PlacedAnode, placeAnodes } from './hull-layout.js'
import { LiftBar, LiftTrouble } from './lift-frame.js'
import { useLiftWords } from './lift-words.js'
import { lastUnit, withDefaults } from './typing.js'

const NOT_FOUND = 404

/** What the pages of one boat at the lift share. */
export interface AtLift extends BoatAtLift {
  readonly placed: readonly PlacedAnode[]
  readonly drafting: ReturnType<typeof useDraft>
  readonly typedOf: (anode: string) => AnodeDraft
  readonly change: (anode: string, part: Partial<AnodeDraft>) => void
  /** The unit that the next mass is read in. */
  readonly unit: MassUnit
  readonly photos: readonly StoredPhoto[]
  readonly photosChanged: () => Promise<void>
  /** What the service said of the entry that is being mended. */
  readonly problems: SortedProblems
  readonly isGone: boolean
}

export function useAtLift(): AtLift {
  return useOutletContext<AtLift>()
}

/** One boat at the lift: fetched, or as the phone holds it. */
export default function BoatAtLiftPage() {
  const { boat = '' } = useParams()
  const t = useLiftWords()
  const { held, isPending, error, retry } = useBoatAtLift(boat)
  const isGone = error instanceof ServiceProblem && error.status === NOT_FOUND
  if (isPending) return <Alone title={boat}>{t('frame.waiting')}</Alone>
  if (held === null) {
    return (
      <>
        <LiftBar title={boat} back="/lift" />
        <LiftTrouble
          error={error}
          retry={retry}
          {...(error instanceof ServiceProblem ? {} : { sentence: t('boat.notHeld') })}
        />
      </>
    )
  }
  return <WithDraft key={held.value.boat.id} held={held.value} isGone={isGone} />
}

function Alone({ title, children }: { title: string; children: string }) {
  return (
    <>
      <LiftBar title={title} back="/lift" />
      <p className="lift-page waiting">{children}</p>
    </>
  )
}

function WithDraft({ held, isGone }: { held: BoatAtLift; isGone: boolean }) {
  const t = useLiftWords()
  const boat = held.boat.name
  const drafting = useDraft(boat)
  const queries = useQueryClient()
  const key = ['draft photos', boat]
  const photos = useQuery({ queryKey: key, queryFn: () => photosOfDraft(boat), networkMode: 'always', retry: false })
  const { draft, changeAnode } = drafting
  const preferred = keptPreferences().massUnit ?? draft.unit
  const context: AtLift = {
    ...held,
    placed: placeAnodes(held.anodes),
    drafting,
    typedOf: (anode) => draft.anodes[anode] ?? UNTOUCHED,
    change: (anode, part) => changeAnode(anode, withDefaults(draft, anode, part, preferred)),
    unit: lastUnit(draft, preferred),
    photos: photos.data ?? [],
    photosChanged: () => queries.invalidateQueries({ queryKey: key }),
    problems: useProblemsOfMended(draft.mends),
    isGone,
  }
  return (
    <>
      {!drafting.isKept && (
        <p className="lift-notice" role="alert">
          {t('frame.unkept')}
        </p>
      )}
      <Outlet context={context} />
    </>
  )
}

function useProblemsOfMended(mends: number | undefined): SortedProblems {
  const entry = useOutbox().entries.find(({ id }) => id === mends)
  return entry?.refusal ? sortProblems(entry.refusal.fields, entry.anodes) : NO_PROBLEMS
}
