import { useEffect, useRef } from 'react'
import { Link, useParams } from 'react-router'
import { useOpenLetter } from '../../api/notices.js'
import { Waiting } from '../../shell/waiting.js'
import { useNoticeWords } from '../notices/notice-words.js'

/** The way from a letter to its reader's page, signed in. Programs that only fetch what letters link to get no further than this. */
export default function OpenLetterPage() {
  const t = useNoticeWords()
  const { token = '' } = useParams()
  const { mutate, isError } = useOpenLetter(token)
  const isAsked = useRef(false)
  useEffect(() => {
    if (isAsked.current) return
    isAsked.current = true
    mutate()
  }, [mutate])
  if (!isError) return <Waiting />
  return (
    <div className="page page-narrow">
      <section className="panel stack">
        <p role="alert">{t('letter.dead')}</p>
        <Link className="button" to="/sign-in?then=%2Fyours">
          {t('letter.signIn')}
        </Link>
      </section>
    </div>
  )
}
