import { languageOf } from '../../messages/languages.js'
import { wantedTags } from './wanted.js'

const FILES = import.meta.glob<Readonly<Record<string, string>>>('../../messages/{de,fr,es}/problems.json', {
  import: 'default',
})

/** How a refusal of the service is said in the reader's language; undefined where only its own sentence says it. */
export type SayProblem = (status: number, code: string | undefined) => string | undefined

/** Fetched with the first refusal, so that no page loads it before. English is what the service itself says. */
export async function problemWords(): Promise<SayProblem> {
  try {
    const own = await FILES[`../../messages/${languageOf(wantedTags())}/problems.json`]?.()
    return (status, code) => own?.[`clash.${code}`] ?? own?.[`status.${status}`]
  } catch {
    // Without a network the service's own sentence is better than nothing.
    return () => undefined
  }
}
