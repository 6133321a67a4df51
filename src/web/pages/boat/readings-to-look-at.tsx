import { type RecordQuestion, useRecordQuestions } from '../../api/record-questions.js'
import { sayDay } from '../../wording/days.js'
import { sayRecordQuestion } from '../../wording/evidence-words.js'
import { capital } from '../../wording/things.js'
import { t } from './boat-words.js'
import './readings-to-look-at.css'

/** So many are read at a glance; the rest waits in a fold. */
const SHOWN_AT_ONCE = 5

/** What of a boat's record contradicts itself, whether or not anything wears abnormally. */
export function ReadingsToLookAt({ boat }: { boat: string }) {
  const questions = useRecordQuestions(boat).data ?? []
  if (questions.length === 0) return null
  const more = questions.slice(SHOWN_AT_ONCE)
  return (
    <section className="panel stack-tight" aria-labelledby="readings-to-look-at">
      <h2 id="readings-to-look-at">{t('look.title')}</h2>
      <p className="soft">{t('look.text')}</p>
      <QuestionList questions={questions.slice(0, SHOWN_AT_ONCE)} />
      {more.length > 0 && (
        <details className="fold">
          <summary>{t('look.more', { number: more.length })}</summary>
          <QuestionList questions={more} />
        </details>
      )}
    </section>
  )
}

function QuestionList({ questions }: { questions: readonly RecordQuestion[] }) {
  return (
    <ul className="record-questions">
      {questions.map(({ kind, about, on, ...question }) => (
        <li key={`${kind} ${about} ${on} ${question.question}`}>
          <span>{capital(sayRecordQuestion(question))}</span>
          {on && <span className="soft small">{sayDay(on)}</span>}
        </li>
      ))}
    </ul>
  )
}
