import type { FindingItem } from '../../contract/findings.js'
import type { AskedQuestion, WeighedEvidence } from '../../engine/diagnosis/diagnosis.js'
import { evidenceIn, questionIn } from '../../outside/words/sentences.js'

/** Programs are told in English; the codes beside it are for everybody else. */
const tellInEnglish = evidenceIn('en')
const askInEnglish = questionIn('en')

/** Kept before sentences had codes: the English sentence itself. A refit replaces it, a settled finding keeps it. */
type KeptEvidence = WeighedEvidence | (Pick<WeighedEvidence, 'observation' | 'weight'> & { readonly what: string })
type KeptQuestion = AskedQuestion | string

/** A piece of evidence as it is answered. */
export function evidenceView(evidence: KeptEvidence): FindingItem['causes'][number]['evidence'][number] {
  const { observation, weight } = evidence
  if ('what' in evidence) {
    return { observation, what: evidence.what, code: 'quoted', values: { text: evidence.what }, weight }
  }
  const { code, values } = evidence
  return { observation, what: tellInEnglish(evidence), code, values, weight }
}

/** Questions about the record as they are answered: in English with the boat before them, and by code. */
export function questionsView(questions: readonly KeptQuestion[]): Pick<FindingItem, 'questions' | 'asked'> {
  const asked = questions.map((question) =>
    typeof question === 'string' ? { boat: null, code: 'quoted', values: { text: question } } : question,
  )
  const told = asked.map((question) => (question.boat === null ? '' : `${question.boat}: `) + askInEnglish(question))
  return { questions: told, asked }
}
