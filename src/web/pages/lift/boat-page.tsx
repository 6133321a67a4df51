import { Link } from 'react-router'
import { dropPhotosOfDraft } from '../../offline/draft-photos.js'
import { dockToday } from '../../offline/service-clock.js'
import { sayDay } from '../../wording/days.js'
import { sayShape } from '../../wording/things.js'
import { type AtLift, useAtLift } from './boat-at-lift-page.js'
import { HullDrawing } from './hull-drawing.js'
import { type Badge, badgesOf, type PlacedAnode } from './hull-layout.js'
import { LiftBar } from './lift-frame.js'
import { liftPath } from './lift-paths.js'
import { sayExpected, sayFound, sayLast, sayPart, sayVerdict, useLiftWords } from './lift-words.js'
import { isDone } from './typing.js'
import { expectedOnScale, verdictOf } from './verdict.js'
import { VerdictMark } from './verdict-line.js'
import './schematic.css'

/** The boat's underwater side with its anodes: which one next? */
export default function BoatPage() {
  const t = useLiftWords()
  const at = useAtLift()
  const { boat, placed, drafting } = at
  const done = placed.filter(({ anode }) => isDoneAt(at, anode.name)).length
  return (
    <>
      <LiftBar title={boat.name} back="/lift" />
      <main id="main" tabIndex={-1} className="lift-page lift-page-boat stack">
        {at.isGone && (
          <p className="lift-notice" role="alert">
            {t('boat.gone')}
          </p>
        )}
        {drafting.draft.mends !== undefined && <p className="lift-notice lift-notice-act">{t('boat.mending')}</p>}
        {drafting.found && drafting.draft.mends === undefined && <Found at={at} />}
        {placed.length === 0 ? <p>{t('boat.none')}</p> : <Schematic at={at} />}
        <ol className="lift-anodes">
          {placed.map((each) => (
            <AnodeRow key={each.anode.id} placed={each} at={at} />
          ))}
        </ol>
      </main>
      <footer className="lift-foot">
        <span className="soft">{t('boat.done', { done, all: placed.length })}</span>
        <Link className="button button-main" to={liftPath(boat, 'summary')}>
          {t('boat.finish')}
        </Link>
      </footer>
    </>
  )
}

function isDoneAt({ typedOf, photos }: AtLift, anode: string): boolean {
  return isDone(typedOf(anode), photos.filter((photo) => photo.anode === anode).length)
}

function Found({ at }: { at: AtLift }) {
  const t = useLiftWords()
  const { draft, discard } = at.drafting
  const startAfresh = async () => {
    await dropPhotosOfDraft(at.boat.name)
    await at.photosChanged()
    discard()
  }
  if (draft.hauledOn === dockToday()) return null
  return (
    <p className="lift-notice">
      {t('boat.begun', { day: sayDay(draft.hauledOn) })}
      <button type="button" className="button" onClick={() => void startAfresh()}>
        {t('boat.afresh')}
      </button>
    </p>
  )
}

/** The drawing with its badges; a line leads from each badge to its anode. */
function Schematic({ at }: { at: AtLift }) {
  const badges = badgesOf(at.placed)
  return (
    <div className="schematic">
      <HullDrawing badges={badges} />
      <div className="schematic-badges">
        {badges.map((badge) => (
          <BadgeLink key={badge.placed.anode.id} badge={badge} at={at} />
        ))}
      </div>
    </div>
  )
}

function BadgeLink({ badge: { placed, column, row }, at }: { badge: Badge; at: AtLift }) {
  const t = useLiftWords()
  const { anode, number } = placed
  const state = stateOf(at, anode.name)
  return (
    <Link
      className="badge"
      data-state={state}
      style={{ gridColumn: column, gridRow: row }}
      to={liftPath(at.boat, 'anodes', anode.name)}
      aria-label={`${number}: ${anode.name}, ${t(`boat.state.${state}`)}`}
    >
      {number}
      {state !== 'open' && <Tick />}
    </Link>
  )
}

function stateOf(at: AtLift, anode: string): 'open' | 'done' | 'replaced' {
  if (at.typedOf(anode).replacedBy !== null) return 'replaced'
  return isDoneAt(at, anode) ? 'done' : 'open'
}

function Tick() {
  return (
    <svg viewBox="0 0 12 12" aria-hidden="true">
      <path d="m2 6 3 3 5-6" fill="none" stroke="currentColor" strokeWidth="2.2" />
    </svg>
  )
}

function AnodeRow({ placed: { anode, number }, at }: { placed: PlacedAnode; at: AtLift }) {
  const t = useLiftWords()
  const { typedOf, unit, forecasts, problems, photos } = at
  const typed = typedOf(anode.name)
  const forecast = forecasts.find((each) => each.anode === anode.name)
  const verdict = verdictOf(anode, forecast, typed, unit)
  const shownUnit = typed.unit ?? unit
  const found = sayFound(typed, unit, t)
  const taken = photos.filter((photo) => photo.anode === anode.name).length
  return (
    <li>
      <Link className="lift-anode" to={liftPath(at.boat, 'anodes', anode.name)} data-state={stateOf(at, anode.name)}>
        <span className="lift-number" aria-hidden="true">
          {number}
        </span>
        <span className="lift-anode-name">
          <strong>
            <bdi>{anode.name}</bdi>
          </strong>
          <span className="soft small">
            {[anode.alloy && t(`alloy.${anode.alloy}`, { ns: 'words' }), sayShape(anode.shape)]
              .filter(Boolean)
              .join(', ')}
          </span>
        </span>
        {found === null ? (
          <dl className="lift-figures">
            <div>
              <dt>{anode.lastWeighing ? t('boat.last') : t('boat.new')}</dt>
              <dd>{sayLast(anode, shownUnit, t)}</dd>
            </div>
            {forecast && (
              <div>
                <dt>{t('boat.expected')}</dt>
                <dd>{sayExpected(expectedOnScale(anode, forecast), shownUnit, t)}</dd>
              </div>
            )}
          </dl>
        ) : (
          <span className="lift-anode-found">
            <strong>{found}</strong>
            {verdict && (
              <span className="small">
                <VerdictMark judgement={verdict.judgement} /> {sayVerdict(verdict, shownUnit, t)}
              </span>
            )}
          </span>
        )}
        <span className="lift-anode-tags">
          {(problems.anodes.get(anode.name)?.length ?? 0) > 0 && (
            <span className="tag tag-fast">{t('boat.marked')}</span>
          )}
          {typed.replacedBy && <span className="tag">{sayPart(typed.replacedBy, unit, t)}</span>}
          {taken > 0 && <span className="tag">{t('boat.photos', { count: taken })}</span>}
        </span>
      </Link>
    </li>
  )
}
