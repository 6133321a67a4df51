import { type FormEvent, useState } from 'react'
import type { LetterLinkView } from '../../../contract/notices.js'
import { useAnswerLetter } from '../../api/notices.js'
import { useNoticeWords } from '../notices/notice-words.js'

type Anode = LetterLinkView['anodes'][number]

/** The owner replaced anodes themselves: which, when, and what the old ones weighed if anybody knows. */
export function DonePanel({ token, anodes, today }: { token: string; anodes: readonly Anode[]; today: string }) {
  const t = useNoticeWords()
  const answer = useAnswerLetter(token)
  const [ticked, setTicked] = useState<ReadonlySet<string>>(new Set())
  const [isMissing, setIsMissing] = useState(false)
  const tick = (id: string, on: boolean) => {
    const next = new Set(ticked)
    if (on) next.add(id)
    else next.delete(id)
    setTicked(next)
    setIsMissing(false)
  }
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault()
    if (ticked.size === 0) return setIsMissing(true)
    const form = new FormData(event.currentTarget)
    const replaced = [...ticked].map((id) => {
      const mass = String(form.get(`mass ${id}`) ?? '').trim()
      return { id, massG: mass === '' ? null : Number(mass) }
    })
    answer.mutate({ action: 'done', on: String(form.get('on')), anodes: replaced })
  }
  if (answer.isSuccess)
    return (
      <section className="panel stack">
        <h2>{t('letter.done')}</h2>
        <p role="status">✓ {t('letter.thanks')}</p>
      </section>
    )
  return (
    <form className="panel stack" onSubmit={submit}>
      <div>
        <h2>{t('letter.done')}</h2>
        <p className="soft">{anodes.length === 0 ? t('letter.noAnodes') : t('letter.doneHint')}</p>
      </div>
      {anodes.length > 0 && (
        <>
          <ul className="settings-list letter-anodes">
            {anodes.map(({ id, anode, position }) => (
              <li key={id} className="letter-anode">
                <label className="letter-tick">
                  <input type="checkbox" checked={ticked.has(id)} onChange={({ target }) => tick(id, target.checked)} />
                  <span>
                    <bdi>{anode}</bdi> <span className="soft">{position}</span>
                  </span>
                </label>
                {ticked.has(id) && (
                  <label className="field">
                    <span>{t('letter.mass')}</span>
                    <input name={`mass ${id}`} type="number" inputMode="decimal" min="1" step="any" />
                  </label>
                )}
              </li>
            ))}
          </ul>
          <label className="field">
            <span>{t('letter.on')}</span>
            <input name="on" type="date" defaultValue={today} max={today} required />
          </label>
          {isMissing && (
            <p className="field-wrong" role="alert">
              {t('letter.pick')}
            </p>
          )}
          {answer.isError && (
            <p className="field-wrong" role="alert">
              {answer.error.message}
            </p>
          )}
          <p>
            <button type="submit" className="button button-main" disabled={answer.isPending}>
              {t('letter.send')}
            </button>
          </p>
        </>
      )}
    </form>
  )
}
