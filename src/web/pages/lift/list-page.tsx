import { lazy, Suspense, useDeferredValue, useId, useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { dockToday } from '../../offline/service-clock.js'
import { useBoatNames, useHeldBoats, useHoldBoats, useLiftList, useParts } from '../../offline/use-held.js'
import { useOutbox } from '../../offline/use-outbox.js'
import { sayDay } from '../../wording/days.js'
import { isBegun } from '../haul-out/draft-key.js'
import { LiftBar, LiftTrouble } from './lift-frame.js'
import { boatsFound, type ListedBoat, listedBoats } from './lift-list.js'
import { liftPath } from './lift-paths.js'
import { useLiftWords } from './lift-words.js'

const Scanner = lazy(() => import('./scanner.js'))

const MOST_FOUND = 12
const MOST_HELD_SHOWN = 8

/** Which boat? From today's list, by its label, or by name or berth. */
export default function ListPage() {
  const t = useLiftWords()
  const list = useLiftList()
  const names = useBoatNames()
  const boats = listedBoats(list.held?.value ?? [], dockToday())
  useHoldBoats(list.isFresh ? boats.map(({ name }) => name) : undefined)
  useParts()
  const [search, setSearch] = useState('')
  const wanted = useDeferredValue(search)
  const found = boatsFound(names.held?.value ?? [], wanted)
  const berthOf = new Map(names.held?.value.map(({ name, berth }) => [name, berth] as const))
  return (
    <>
      <LiftBar title={t('list.title')} />
      <main id="main" tabIndex={-1} className="lift-page stack">
        <Ways search={search} setSearch={setSearch} />
        {wanted.trim() === '' ? (
          <>
            {list.held === null && list.error !== null ? (
              <LiftTrouble error={list.error} sentence={t('list.unread')} retry={list.retry} />
            ) : (
              <Planned boats={boats} berthOf={berthOf} isPending={list.isPending} />
            )}
            <OnThisPhone listed={boats} />
          </>
        ) : (
          <section className="stack-tight" aria-live="polite">
            <p className="soft small">
              {names.held === null
                ? t('list.noneHeld')
                : found.length === 0
                  ? t('list.noneFound')
                  : found.length > MOST_FOUND
                    ? t('list.more', { shown: MOST_FOUND, count: found.length })
                    : t('list.found', { count: found.length })}
            </p>
            <ul className="lift-list">
              {found.slice(0, MOST_FOUND).map(({ id, name, berth }) => (
                <BoatLink key={id} boat={{ id, name }} berth={berth} />
              ))}
            </ul>
          </section>
        )}
      </main>
    </>
  )
}

function Ways({ search, setSearch }: { search: string; setSearch: (text: string) => void }) {
  const t = useLiftWords()
  const navigate = useNavigate()
  const [isScanning, setIsScanning] = useState(false)
  const id = useId()
  return (
    <div className="stack-tight">
      {isScanning ? (
        <Suspense fallback={<p className="waiting">{t('scan.starting')}</p>}>
          <Scanner onBoat={(boat) => void navigate(liftPath({ name: boat }))} onClose={() => setIsScanning(false)} />
        </Suspense>
      ) : (
        <button type="button" className="button button-main lift-scan" onClick={() => setIsScanning(true)}>
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <path
              d="M3 8V3h5M16 3h5v5M21 16v5h-5M8 21H3v-5M8 8h3v3H8zM14 8h2v2M8 14h2v2M14 14h2v2h-2z"
              fill="none"
              stroke="currentColor"
              strokeWidth="2"
            />
          </svg>
          {t('list.scan')}
        </button>
      )}
      <div className="field">
        <label htmlFor={id}>{t('list.search')}</label>
        <input
          id={id}
          type="search"
          autoComplete="off"
          enterKeyHint="search"
          value={search}
          onChange={(event) => setSearch(event.target.value)}
        />
      </div>
    </div>
  )
}

interface PlannedProps {
  boats: readonly ListedBoat[]
  berthOf: ReadonlyMap<string, string | null>
  isPending: boolean
}

function Planned({ boats, berthOf, isPending }: PlannedProps) {
  const t = useLiftWords()
  if (isPending) return <p className="waiting">{t('frame.waiting')}</p>
  const groups = (['today', 'earlier', 'soon'] as const).map((when) => ({
    when,
    listed: boats.filter((boat) => boat.when === when),
  }))
  return (
    <>
      {groups[0]?.listed.length === 0 && <p className="soft">{t('list.none')}</p>}
      {groups.map(({ when, listed }) =>
        listed.length === 0 ? null : (
          <section key={when} className="stack-tight">
            <h2>{t(`list.${when}`)}</h2>
            <ul className="lift-list">
              {listed.map(({ name, on }) => (
                <BoatLink
                  key={`${name} ${on}`}
                  boat={{ name }}
                  berth={berthOf.get(name) ?? null}
                  day={when === 'today' ? null : on}
                />
              ))}
            </ul>
          </section>
        ),
      )}
    </>
  )
}

/** Boats that open without a network though they are not on the list. */
function OnThisPhone({ listed }: { listed: readonly ListedBoat[] }) {
  const t = useLiftWords()
  const held = (useHeldBoats() ?? []).filter(({ name }) => !listed.some((boat) => boat.name === name))
  if (held.length === 0) return null
  return (
    <section className="stack-tight">
      <h2>{t('list.held')}</h2>
      <ul className="lift-list">
        {held.slice(0, MOST_HELD_SHOWN).map(({ id, name, berth }) => (
          <BoatLink key={id} boat={{ id, name }} berth={berth} />
        ))}
      </ul>
    </section>
  )
}

interface BoatLinkProps {
  boat: { id?: string; name: string }
  berth: string | null
  day?: string | null
}

function BoatLink({ boat, berth, day = null }: BoatLinkProps) {
  const t = useLiftWords()
  const { entries } = useOutbox()
  const today = dockToday()
  const isLogged = entries.some((entry) => entry.boat.name === boat.name && entry.body.hauledOn === today)
  const hasBegun = isBegun(localStorage, boat.name)
  return (
    <li>
      <Link className="lift-row" to={liftPath(boat)}>
        <strong>
          <bdi>{boat.name}</bdi>
        </strong>
        <span className="soft small">
          {[berth === null ? '' : t('list.berth', { berth }), day === null ? '' : sayDay(day)]
            .filter(Boolean)
            .join(' · ')}
        </span>
        {(isLogged || hasBegun) && <span className="tag">{hasBegun ? t('list.started') : t('list.logged')}</span>}
      </Link>
    </li>
  )
}
