import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { HaulOutDetail, HaulOutPage } from '../../../contract/haul-outs.js'
import type { MassUnit } from '../../../contract/vocabulary.js'
import { WeighingView } from '../../../contract/weighings.js'
import { amend, read } from '../../api/http.js'
import { newKey } from '../../api/request-key.js'
import { changeEntry } from '../../offline/outbox.js'
import type { OutboxEntry } from '../../offline/outbox-entry.js'
import { sendOutbox } from '../../offline/send-outbox.js'
import { sayMassIn } from '../../wording/amounts.js'
import { UNTOUCHED } from '../haul-out/draft.js'
import { type Clash, clashesOf, correctionOf, withoutClashes } from './conflict.js'
import { type LiftWords, sayFound, useLiftWords } from './lift-words.js'

/** Both readings side by side, and which of them shall stand; the other stays on record. */
export function ConflictPanel({ entry }: { entry: OutboxEntry }) {
  const t = useLiftWords()
  const [trouble, setTrouble] = useState<string | null>(null)
  const logged = useQuery({
    queryKey: ['logged that day', entry.id, entry.key],
    queryFn: ({ signal }) => loggedThatDay(entry, signal),
    networkMode: 'always',
    retry: false,
  })
  if (logged.isError) return <p>{t('outbox.conflict.failed', { why: logged.error.message })}</p>
  if (logged.data === undefined) return <p>{t('outbox.conflict.loading')}</p>
  const detail = logged.data
  const clashes = clashesOf(entry, detail)
  const unitOf = (anode: string) => entry.draft.anodes[anode]?.unit ?? entry.draft.unit
  const foundHere = ({ anode }: Clash) => sayFound(entry.draft.anodes[anode] ?? UNTOUCHED, entry.draft.unit, t) ?? '–'
  const settle = async (work: () => Promise<readonly string[]>) => {
    setTrouble(null)
    try {
      await changeEntry(withoutClashes(entry, clashes, detail, await work(), newKey()))
      await sendOutbox()
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : '')
    }
  }
  const noteMine = async () =>
    clashes.map((clash) => t('outbox.conflict.note', { anode: clash.anode, found: foundHere(clash) }))
  const correct = async () => {
    for (const { mine, theirs } of clashes) {
      const body = correctionOf(mine, t('outbox.conflict.reason'))
      if (theirs !== null) await amend(WeighingView, `/v1/weighings/${theirs.id}`, { body, basedOn: theirs.version })
    }
    return []
  }
  return (
    <div className="stack-tight">
      <table className="clashes">
        <thead>
          <tr>
            <th scope="col">
              <span className="unseen">{t('anode.mass')}</span>
            </th>
            <th scope="col">{t('outbox.conflict.here')}</th>
            <th scope="col">{t('outbox.conflict.there')}</th>
          </tr>
        </thead>
        <tbody>
          {clashes.map((clash) => (
            <tr key={clash.anode}>
              <th scope="row">
                <bdi>{clash.anode}</bdi>
              </th>
              <td>{foundHere(clash)}</td>
              <td>{clash.theirs === null ? '–' : sayLogged(clash.theirs, unitOf(clash.anode), t)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {trouble !== null && (
        <p className="field-wrong" role="alert">
          <span>{t('outbox.conflict.failed', { why: trouble })}</span>
        </p>
      )}
      <div className="chips">
        <button type="button" className="button button-main" onClick={() => void settle(noteMine)}>
          {t('outbox.conflict.theirs')}
        </button>
        <button type="button" className="button" onClick={() => void settle(correct)}>
          {t('outbox.conflict.mine')}
        </button>
      </div>
    </div>
  )
}

async function loggedThatDay({ boat, body }: OutboxEntry, signal: AbortSignal): Promise<HaulOutDetail> {
  const day = new URLSearchParams({ boat: boat.id, from: body.hauledOn, to: body.hauledOn })
  const { items } = await read(HaulOutPage, `/v1/haul-outs?${day}`, signal)
  return read(HaulOutDetail, `/v1/haul-outs/${items[0]?.id}`, signal)
}

function sayLogged({ massG, wastedPercent }: WeighingView, unit: MassUnit, t: LiftWords): string {
  if (massG !== null) return sayMassIn(massG, unit)
  return wastedPercent === null ? t('boat.byCalipers') : t('anode.eyeValue', { percent: wastedPercent })
}
