import { type FormEvent, useState } from 'react'
import type { PriceList } from '../../../contract/prices.js'
import { usePriceList, useReplacePriceList } from '../../api/costs.js'
import { ServiceProblem } from '../../api/problem.js'
import { useMe } from '../../api/session.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { localToday } from '../../wording/days.js'
import { EntryField } from '../haul-out/entry-field.js'
import { SettingsPart } from '../settings/settings-part.js'
import { useCostWords } from './cost-words.js'
import { draftOf, inOrder, type ListDraft, type PriceDraft, readList, type Unread, withPrice } from './price-draft.js'
import { PriceRow } from './price-row.js'
import '../haul-out/haul-out.css'
import './prices.css'

/** For administrators and managers: what a lift and each part cost. */
export default function PricesPage() {
  const t = useCostWords()
  const me = useMe()
  const may = me.data?.permissions.includes('prices:write') ?? false
  return (
    <SettingsPart words={{ title: t('title'), back: t('back'), notYours: t('notYours'), about: t('about') }} may={may}>
      <Read />
    </SettingsPart>
  )
}

function Read() {
  const list = usePriceList()
  if (list.isError) return <Trouble error={list.error} retry={list.refetch} />
  return list.data === undefined ? <Waiting /> : <PriceForm list={list.data} />
}

function PriceForm({ list }: { list: PriceList }) {
  const t = useCostWords()
  const [draft, setDraft] = useState<ListDraft>(() => draftOf(list))
  const [unread, setUnread] = useState<readonly Unread[]>([])
  // What the draft is based on, whatever has been read since: somebody else's change is not overwritten.
  const [version, setVersion] = useState(list.version)
  const saving = useReplacePriceList()
  const change = (part: Partial<ListDraft>) => {
    setDraft((before) => ({ ...before, ...part }))
    setUnread([])
    saving.reset()
  }
  const save = (event: FormEvent) => {
    event.preventDefault()
    const read = readList(draft)
    if (read.kind === 'unread') return setUnread(read.fields)
    saving.mutate({ list: read.list, version }, { onSuccess: (saved) => setVersion(saved.version) })
  }
  const rows = inOrder(draft.prices)
  const refused = saving.error instanceof ServiceProblem ? saving.error.fields : []
  const wrongOf = (price: PriceDraft, field: string): string | undefined => {
    if (unread.some((each) => each.id === price.id && each.field === field))
      return t(field === 'amount' ? 'wrongNumber' : 'wrongMass')
    return refused.find(({ pointer }) => pointer === `/prices/${rows.indexOf(price)}/${field}`)?.detail
  }
  const section = (kind: PriceDraft['kind']) => (
    <>
      {rows.map(
        (price, index) =>
          price.kind === kind && (
            <PriceRow
              key={price.id}
              name={t('row', { number: index + 1 })}
              price={price}
              wrongOf={(field) => wrongOf(price, field)}
              change={(part) =>
                change({ prices: draft.prices.map((each) => (each.id === price.id ? { ...each, ...part } : each)) })
              }
              remove={() => change({ prices: draft.prices.filter(({ id }) => id !== price.id) })}
            />
          ),
      )}
      <p>
        <button
          type="button"
          className="button"
          onClick={() => change({ prices: withPrice(draft.prices, kind, localToday(new Date())) })}
        >
          {t(kind === 'lift' ? 'addLift' : 'addPart')}
        </button>
      </p>
    </>
  )
  return (
    <form className="stack" onSubmit={save} noValidate>
      <section className="panel stack">
        <EntryField
          label={t('currency')}
          hint={t('currencyHint')}
          value={draft.currency}
          wrong={refused.find(({ pointer }) => pointer === '/currency')?.detail}
          onChange={(currency) => change({ currency })}
        />
      </section>
      <section className="panel stack">
        <h2>{t('lift')}</h2>
        {section('lift')}
      </section>
      <section className="panel stack">
        <div>
          <h2>{t('parts')}</h2>
          <p className="soft">{t('partsHint')}</p>
        </div>
        {section('part')}
      </section>
      {saving.isError && (
        <p className="field-wrong" role="alert">
          {saving.error.message}
        </p>
      )}
      <p>
        <button type="submit" className="button button-main" disabled={saving.isPending}>
          {t('save')}
        </button>{' '}
        {saving.isSuccess && <span role="status">{t('saved')}</span>}
      </p>
    </form>
  )
}
