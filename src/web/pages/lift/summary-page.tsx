import { Segments } from '../haul-out/choices.js'
import { BERTH_PREFIX, STAYS_ASHORE } from '../haul-out/draft.js'
import { EntryField } from '../haul-out/entry-field.js'
import { type AtLift, useAtLift } from './boat-at-lift-page.js'
import { LiftCautions } from './lift-cautions.js'
import { LiftBar } from './lift-frame.js'
import { liftPath } from './lift-paths.js'
import { isolated, useLiftWords } from './lift-words.js'
import { LogButton } from './log-button.js'
import { readOutOf } from './read-out.js'

/** What will be logged, to be read over once; then one tap keeps it, with or without a network. */
export default function SummaryPage() {
  const t = useLiftWords()
  const at = useAtLift()
  const readOut = readOutOf(at, t)
  return (
    <>
      <LiftBar title={`${at.boat.name}: ${t('summary.title')}`} back={liftPath(at.boat)} />
      <main id="main" tabIndex={-1} className="lift-page stack">
        <LiftCautions keys={readOut.cautions} />
        {readOut.lines.length === 0 ? (
          <p>{t('summary.nothing')}</p>
        ) : (
          <ul className="read-out">
            {readOut.lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
        {readOut.missing.length > 0 && (
          <p className="lift-notice">
            {t('summary.missing', {
              count: readOut.missing.length,
              names: readOut.missing.map(isolated).join(', '),
            })}
          </p>
        )}
        <LiftFields at={at} />
        <p className="soft small">{t('summary.caution')}</p>
      </main>
      <LogButton at={at} readOut={readOut} />
    </>
  )
}

function LiftFields({ at: { boat, drafting, problems } }: { at: AtLift }) {
  const t = useLiftWords()
  const { draft, change } = drafting
  const wrongAt = (pattern: RegExp) => problems.form.find(({ pointer }) => pattern.test(pointer))?.detail
  const elsewhere = problems.form.filter(({ pointer }) => !/^(hauledOn|relaunch|note)/.test(pointer))
  const isBack = draft.relaunchedOn !== ''
  return (
    <section className="stack">
      {elsewhere.map(({ detail }) => (
        <p key={detail} className="field-wrong">
          <span>{detail}</span>
        </p>
      ))}
      <EntryField
        label={t('summary.day')}
        type="date"
        value={draft.hauledOn}
        onChange={(hauledOn) => change({ hauledOn, ...(isBack && { relaunchedOn: hauledOn }) })}
        wrong={wrongAt(/^hauledOn/)}
      />
      {boat.currentBerth !== null && (
        <Segments
          label={t('summary.relaunch')}
          // Nothing is taken for granted: a boat whose days ashore nobody tells counts as in the water.
          value={isBack ? 'same' : draft.backAt === STAYS_ASHORE ? 'ashore' : null}
          choices={[
            ['same', t('summary.sameDay', { berth: boat.currentBerth })],
            ['ashore', t('summary.staysAshore')],
          ]}
          onChange={(answer) =>
            change(
              answer === 'same'
                ? { relaunchedOn: draft.hauledOn, backAt: `${BERTH_PREFIX}${boat.currentBerth}` }
                : { relaunchedOn: '', backAt: STAYS_ASHORE },
            )
          }
        />
      )}
      {wrongAt(/^relaunch/) && (
        <p className="field-wrong">
          <span>{wrongAt(/^relaunch/)}</span>
        </p>
      )}
      <EntryField
        label={t('summary.note')}
        value={draft.note}
        onChange={(note) => change({ note })}
        wrong={wrongAt(/^note/)}
      />
    </section>
  )
}
