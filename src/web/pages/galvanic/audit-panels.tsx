import type { GalvanicAuditView } from '../../../contract/galvanic.js'
import { Caution } from '../../shell/caution.js'
import { sayDay } from '../../wording/days.js'
import { capital } from '../../wording/things.js'
import { READING_WORDS, sayList, sayVolts } from './galvanic-words.js'
import { JudgementTag } from './judgement-tag.js'
import { PairCard } from './pair-card.js'

/** Metals that can let the water in, and anodes that do harm: told before anything else. */
const GRAVE_NOTES: readonly string[] = ['dezincification', 'stainless-without-oxygen']

export function PairsPanel({ pairs }: { pairs: GalvanicAuditView['pairs'] }) {
  return (
    <section className="panel stack" aria-labelledby="pairs">
      <h2 id="pairs">Pairs of metals</h2>
      <p className="soft">As they are without anodes: what comes when those are used up or lose contact.</p>
      {pairs.length === 0 ? (
        <p className="soft">No two metals are known to be joined: bonded, or with a continuity reading between them.</p>
      ) : (
        <ul className="pairs">
          {pairs.map((pair) => (
            <PairCard
              key={`${pair.cathode.metal} ${pair.anode.metal} ${pair.cathode.fittings} ${pair.anode.fittings}`}
              pair={pair}
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
      <h2 id="potentials">Latest potentials</h2>
      <ul className="judged-list">
        {potentials.map(({ fitting, measuredAt, voltsAgAgcl, verdict, reason }) => (
          <li key={fitting ?? ''}>
            <JudgementTag judgement={READING_WORDS[verdict]} />
            <p>
              <strong>{fitting ?? 'The bonded hull'}</strong>
              {voltsAgAgcl !== null && `, ${sayVolts(voltsAgAgcl)} V`}{' '}
              <span className="soft">on {sayDay(measuredAt.slice(0, 10))}.</span> {reason}
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
      <h2 id="questions">To be found out</h2>
      <p className="soft">What is not on record is not guessed. With this the audit can say more:</p>
      <ul className="sources">
        {questions.map(({ key, about, question }) => (
          <li key={`${key} ${about} ${question}`}>{question}</li>
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
      <h2 id="notes">To look out for</h2>
      {notes.map(({ key, fittings, text }) => (
        <Caution key={key} grade={GRAVE_NOTES.includes(key) ? 'stop' : 'mind'}>
          {fittings.length > 0 && <strong>{capital(sayList(fittings))}. </strong>}
          {text}
        </Caution>
      ))}
    </section>
  )
}

export function SourcesFold({ sources }: { sources: GalvanicAuditView['sources'] }) {
  return (
    <details className="fold">
      <summary>Sources</summary>
      <ul className="small sources">
        {sources.map(({ key, title, read }) => (
          <li key={key}>
            {title} <span className="soft">({read})</span>
          </li>
        ))}
      </ul>
    </details>
  )
}
