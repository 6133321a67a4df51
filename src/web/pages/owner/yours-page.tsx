import { useYourBoats } from '../../api/boats.js'
import { useMe } from '../../api/session.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { CalendarPanel } from '../settings/calendar-panel.js'
import { useOwnerWords } from './owner-words.js'
import { YourBoatPanel } from './your-boat-panel.js'
import './owner.css'

/** The owner's start: each of their boats with when, what to order, how sure, what was found. */
export default function YoursPage() {
  const t = useOwnerWords()
  const boats = useYourBoats()
  const me = useMe()
  if (boats.isPending) return <Waiting />
  if (boats.isError) return <Trouble error={boats.error} retry={boats.refetch} />
  const title = boats.data.length > 1 ? t('titles') : t('title')
  return (
    <div className="page yours">
      <title>{`${title} · Anode Ledger`}</title>
      <h1>{title}</h1>
      {boats.data.length === 0 && (
        <section className="panel stack">
          <h2>{t('none.title')}</h2>
          <p>{t('none.text', { email: me.data?.email ?? '' })}</p>
        </section>
      )}
      {boats.data.map((boat) => (
        <YourBoatPanel key={boat.id} boat={boat} />
      ))}
      <CalendarPanel />
    </div>
  )
}
