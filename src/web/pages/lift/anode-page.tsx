import { Link, useParams } from 'react-router'
import { Caution } from '../../shell/caution.js'
import { cautionsOfAlloy, cautionsOfConditions } from '../boat/cautions.js'
import { Segments } from '../haul-out/choices.js'
import { doubtOf } from '../haul-out/field-problems.js'
import { type AtLift, useAtLift } from './boat-at-lift-page.js'
import { CaliperPad } from './caliper-pad.js'
import { ConditionField } from './condition-field.js'
import { EyeField } from './eye-field.js'
import type { PlacedAnode } from './hull-layout.js'
import { LiftBar } from './lift-frame.js'
import { liftPath } from './lift-paths.js'
import { sayExpected, useLiftWords } from './lift-words.js'
import { MassPad } from './mass-pad.js'
import { PhotoStrip } from './photo-strip.js'
import { ReplacePanel } from './replace-panel.js'
import { expectedOnScale, verdictOf } from './verdict.js'
import { VerdictLine } from './verdict-line.js'
import './anode-at-lift.css'
import './looks.css'
import './work-done.css'

/** One anode: how much is left, what it looks like, what was done. */
export default function AnodePage() {
  const { anode: name = '' } = useParams()
  const at = useAtLift()
  const t = useLiftWords()
  const index = at.placed.findIndex(({ anode }) => anode.name === name)
  const placed = at.placed[index]
  if (placed === undefined) {
    return (
      <>
        <LiftBar title={at.boat.name} back={liftPath(at.boat)} />
        <p className="lift-page">{t('boat.none')}</p>
      </>
    )
  }
  return (
    <>
      <LiftBar title={name} back={liftPath(at.boat)}>
        <span className="lift-count">{t('anode.of', { number: placed.number, all: at.placed.length })}</span>
      </LiftBar>
      <main id="main" tabIndex={-1} className="lift-page lift-page-anode stack" key={name}>
        <Measuring at={at} placed={placed} />
        <Looking at={at} placed={placed} />
      </main>
      <Onwards at={at} next={at.placed[index + 1]} />
    </>
  )
}

function Measuring({ at, placed: { anode } }: { at: AtLift; placed: PlacedAnode }) {
  const t = useLiftWords()
  const typed = at.typedOf(anode.name)
  const unit = typed.unit ?? at.unit
  const forecast = at.forecasts.find((each) => each.anode === anode.name)
  const verdict = verdictOf(anode, forecast, typed, at.unit)
  const change = (part: Partial<typeof typed>) => at.change(anode.name, part)
  const expected = forecast && sayExpected(expectedOnScale(anode, forecast), unit, t)
  return (
    <section className="measuring">
      <Segments
        label={t('anode.method')}
        value={typed.method}
        choices={(['scale', 'dimensions', 'visual'] as const).map((method) => [method, t(`anode.${method}`)] as const)}
        onChange={(method) => change({ method })}
      />
      {typed.method === 'scale' && <MassPad typed={typed} unit={unit} change={change} />}
      {typed.method === 'dimensions' && <CaliperPad anode={anode} typed={typed} change={change} />}
      {typed.method === 'visual' && <EyeField shape={anode.shape} typed={typed} change={change} />}
      <VerdictLine
        verdict={verdict}
        unit={unit}
        fallback={expected ? t('verdict.expected', { mass: expected }) : t('verdict.none')}
      />
      <Problems at={at} anode={anode.name} />
    </section>
  )
}

/** What the service did not take, where it can be mended or confirmed. */
function Problems({ at, anode }: { at: AtLift; anode: string }) {
  const t = useLiftWords()
  const typed = at.typedOf(anode)
  const open = (at.problems.anodes.get(anode) ?? []).filter((problem) => {
    const doubt = doubtOf(problem)
    return doubt === undefined || !typed.confirm.includes(doubt)
  })
  return open.map((problem) => {
    const doubt = doubtOf(problem)
    return (
      <div key={problem.pointer + problem.detail} className="stack-tight" role="alert">
        <p className="field-wrong">
          <span>{problem.detail}</span>
        </p>
        {doubt && (
          <button
            type="button"
            className="button"
            onClick={() => at.change(anode, { confirm: [...typed.confirm, doubt] })}
          >
            {t('anode.right')}
          </button>
        )}
      </div>
    )
  })
}

function Looking({ at, placed: { anode } }: { at: AtLift; placed: PlacedAnode }) {
  const t = useLiftWords()
  const typed = at.typedOf(anode.name)
  const change = (part: Partial<typeof typed>) => at.change(anode.name, part)
  return (
    <section className="stack">
      {typed.method === 'scale' && (
        <Segments
          label={t('anode.cleaned')}
          value={typed.cleaned === null ? null : typed.cleaned ? 'yes' : 'no'}
          choices={[
            ['yes', t('anode.yes')],
            ['no', t('anode.no')],
          ]}
          onChange={(answer) => change({ cleaned: answer === 'yes' })}
        />
      )}
      <ConditionField values={typed.conditions} change={(conditions) => change({ conditions })} />
      <Cautions at={at} anode={anode.name} />
      <ReplacePanel anode={anode} typed={typed} unit={at.unit} change={change} />
      <PhotoStrip at={at} anode={anode.name} />
    </section>
  )
}

function Cautions({ at, anode }: { at: AtLift; anode: string }) {
  const t = useLiftWords()
  const { conditions, replacedBy } = at.typedOf(anode)
  const cautions = [
    ...cautionsOfConditions(conditions),
    ...cautionsOfAlloy(replacedBy?.alloy || null, at.boat.hull, null),
  ]
  return cautions.map(({ key, grade }) => {
    const words = CAUTION_WORDS[key]
    return words === undefined ? null : (
      <Caution key={key} grade={grade}>
        <strong>{t(`${words}.title`)}</strong> {t(`${words}.text`)}
      </Caution>
    )
  })
}

/** The lift's own words for a caution, by its key. */
export const CAUTION_WORDS: Readonly<Record<string, 'survey' | 'paint' | 'magnesium'>> = {
  survey: 'survey',
  'no-paint': 'paint',
  magnesium: 'magnesium',
}

function Onwards({ at, next }: { at: AtLift; next: PlacedAnode | undefined }) {
  const t = useLiftWords()
  return (
    <footer className="lift-foot">
      <Link
        className="button button-main"
        to={next === undefined ? liftPath(at.boat, 'summary') : liftPath(at.boat, 'anodes', next.anode.name)}
      >
        {next === undefined ? t('anode.toSummary') : t('anode.next', { anode: next.anode.name })}
      </Link>
    </footer>
  )
}
