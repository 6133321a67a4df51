import type { GalvanicAuditView } from '../../../contract/galvanic.js'
import { Caution } from '../../shell/caution.js'
import { sayDay } from '../../wording/days.js'
import { sayReason } from '../../wording/reasons.js'
import { capital } from '../../wording/things.js'
import { judgeReading, sayAuditQuestion, sayList, sayNote, sayVolts, t } from './galvanic-words.js'
import { JudgementTag } from './judgement-tag.js'
import { PairCard } from './pair-card.js'

/** Metals that can let the water in, and anodes that do harm: told before anything else. */
const GRAVE_NOTES: readonly string[] = ['dezincification', 'stainless-without-oxygen']

export function PairsPanel({ pairs }: { pairs: GalvanicAuditView['pairs'] }) {
  return (
    <section className="panel stack" aria-labelledby="pairs">
      <h2 id="pairs">{t('pairs.title')}</h2>
      <p className="soft">{t('pairs.about')}</p>
      {pairs.length === 0 ? (
        <p className="soft">{t('pairs.none')}</p>
      ) : (
        <ul className="pairs">
          {pairs.map((pair) => (
            <PairCard
              key={`${pair.cathode.metal} ${pair.anode.metal} ${pair.cathode.fittings} ${pair.anode.fittings}`}
              pair={{ ...pair, said: sayReason(pair) }}
            />
          ))}
        </ul>
      )}
    </section>
  )
}

export function PotentialsPanel({ potentials }: { potentials: GalvanicAuditView['potentials'] }) {
  if (potentials.length === 0) return null
  return (
    <section className="panel stack" aria-labelledby="potentials">
      <h2 id="potentials">{t('readings.title')}</h2>
      <ul className="judged-list">
        {potentials.map(({ fitting, measuredAt, voltsAgAgcl, verdict, reasons, reason }) => (
          <li key={fitting ?? ''}>
            <JudgementTag judgement={judgeReading(verdict)} />
            <p>
              <strong>{fitting ?? t('readings.hull')}</strong>
              {voltsAgAgcl !== null && `, ${sayVolts(voltsAgAgcl)} V`}{' '}
              <span className="soft">{t('readings.on', { day: sayDay(measuredAt.slice(0, 10)) })}</span>{' '}
              {sayReason({ reasons, reason })}
            </p>
          </li>
        ))}
      </ul>
    </section>
  )
}

export function QuestionsPanel({ questions }: { questions: GalvanicAuditView['questions'] }) {
  if (questions.length === 0) return null
  return (
    <section className="panel stack-tight" aria-labelledby="questions">
      <h2 id="questions">{t('questions.title')}</h2>
      <p className="soft">{t('questions.about')}</p>
      <ul className="sources">
        {questions.map((question) => (
          <li key={`${question.key} ${question.about} ${question.question}`}>{sayAuditQuestion(question)}</li>
        ))}
      </ul>
    </section>
  )
}

/** Cautions by what calls for them; those that can sink a boat as such. */
export function NotesPanel({ notes }: { notes: GalvanicAuditView['notes'] }) {
  if (notes.length === 0) return null
  return (
    <section className="stack" aria-labelledby="notes">
      <h2 id="notes">{t('notes')}</h2>
      {notes.map(({ key, fittings, text }) => (
        <Caution key={key} grade={GRAVE_NOTES.includes(key) ? 'stop' : 'mind'}>
          {fittings.length > 0 && <strong>{capital(sayList(fittings))}. </strong>}
          {sayNote({ key, text })}
        </Caution>
      ))}
    </section>
  )
}

export function SourcesFold({ sources }: { sources: GalvanicAuditView['sources'] }) {
  return (
    <details className="fold">
      <summary>{t('sources')}</summary>
      <ul className="small sources">
        {sources.map(({ key, title, read }) => (
          <li key={key} lang="en">
            {title} <span className="soft">({read})</span>
          </li>
        ))}
      </ul>
    </details>
  )
}
