import { type ReactNode, useEffect, useId, useRef } from 'react'
import { Link } from 'react-router'
import type { BoatView } from '../../../contract/boats.js'
import type { DepletionView } from '../../../contract/forecasts.js'
import type { HaulOutView } from '../../../contract/haul-outs.js'
import { useBerths } from '../../api/boats.js'
import { useDepletion } from '../../api/depletion.js'
import { type Finding, useFindingsOfBoat } from '../../api/findings.js'
import { useHaulOuts } from '../../api/haul-outs.js'
import { Caution } from '../../shell/caution.js'
import { Trouble } from '../../shell/waiting.js'
import { sayDay, sayDistance } from '../../wording/days.js'
import { occupiedPositions } from '../boat/positions.js'
import { LastPhotos } from './last-photos.js'
import { ownerCautions } from './owner-cautions.js'
import { sayPart, sayPosition, useOwnerWords } from './owner-words.js'
import { WhatWasFound } from './what-was-found.js'
import { type LiftAdvice, type Sureness, type YourBoat, yourBoat } from './your-boat.js'

/** One boat of the owner's, with nothing to operate. */
export function YourBoatPanel({ boat }: { boat: BoatView }) {
  const t = useOwnerWords()
  const heading = useId()
  const depletion = useDepletion(boat.name)
  const haulOuts = useHaulOuts(boat.name)
  const findings = useFindingsOfBoat(boat.name)
  const failed = [depletion, haulOuts, findings].find((query) => query.isError)
  const isKnown = depletion.data && haulOuts.data && findings.data
  const panel = useRef<HTMLElement>(null)
  const anchor = `boat-${boat.id}`
  // A letter about one of many boats leads to that one, once there is something to see.
  useEffect(() => {
    if (isKnown && location.hash === `#${anchor}`) panel.current?.scrollIntoView()
  }, [isKnown, anchor])
  return (
    <section ref={panel} id={anchor} className="panel your-boat" aria-labelledby={heading}>
      <header>
        <h2 id={heading}>
          <bdi>{boat.name}</bdi>
        </h2>
        <p className="soft">{sayWhere(boat, t)}</p>
      </header>
      {failed && <Trouble error={failed.error} retry={failed.refetch} />}
      {!isKnown && !failed && (
        <p className="waiting" role="status">
          {t('loading')}
        </p>
      )}
      {isKnown && <Known boat={boat} depletion={depletion.data} haulOuts={haulOuts.data} findings={findings.data} />}
      <Link className="button your-boat-more" to={`/boats/${encodeURIComponent(boat.name)}`}>
        {t('more', { boat: boat.name })}
      </Link>
    </section>
  )
}

interface KnownProps {
  boat: BoatView
  depletion: DepletionView
  haulOuts: readonly HaulOutView[]
  findings: readonly Finding[]
}

function Known({ boat, depletion, haulOuts, findings }: KnownProps) {
  const t = useOwnerWords()
  const berths = useBerths()
  const inPlace = occupiedPositions(depletion).map(({ current }) => current)
  const water = berths.data?.find(({ name }) => name === boat.currentBerth)?.water ?? null
  const { lift, parts, sureness } = yourBoat(depletion, haulOuts)
  return (
    <>
      <Cautions cautions={ownerCautions({ boat, water, inPlace, findings })} />
      <div className="your-boat-parts">
        <Part name={t('when.heading')}>
          <When lift={lift} asOf={depletion.asOf} />
        </Part>
        <Part name={t('order.heading')}>
          <Order parts={parts} />
        </Part>
        <Part name={t('sure.heading')}>{sureness ? <Sure sureness={sureness} /> : <p>{t('sure.unknown')}</p>}</Part>
        <Part name={t('found.heading')}>
          <WhatWasFound findings={findings} />
        </Part>
      </div>
      <Part name={t('photos.heading')}>
        <LastPhotos boat={boat.name} />
      </Part>
    </>
  )
}

function Part({ name, children }: { name: string; children: ReactNode }) {
  return (
    <section className="your-boat-part">
      <h3>{name}</h3>
      {children}
    </section>
  )
}

function Cautions({ cautions }: { cautions: ReturnType<typeof ownerCautions> }) {
  const t = useOwnerWords()
  if (cautions.length === 0) return null
  return (
    <div className="stack-tight">
      {cautions.map(({ key, grade }) => (
        <Caution key={key} grade={grade}>
          <strong>{t(`caution.${key}.title`)}</strong> {t(`caution.${key}.text`)}
        </Caution>
      ))}
    </div>
  )
}

function When({ lift, asOf }: { lift: LiftAdvice; asOf: string }) {
  const t = useOwnerWords()
  const said = 'on' in lift ? { day: sayDay(lift.on), distance: sayDistance(asOf, lift.on) } : { day: '', distance: '' }
  return (
    <>
      <p className="your-boat-main">{t(lift.kind === 'nowPlanned' ? 'when.now' : `when.${lift.kind}`, said)}</p>
      <p>{t(`when.${lift.kind}Text`, said)}</p>
    </>
  )
}

function Order({ parts }: Pick<YourBoat, 'parts'>) {
  const t = useOwnerWords()
  if (parts.length === 0) return <p className="your-boat-main">{t('order.none')}</p>
  return (
    <>
      <ul className="your-boat-order">
        {parts.map((part) => {
          const said = sayPart(part, t)
          return (
            <li key={said}>
              <strong>{part.count} ×</strong> {said}
            </li>
          )
        })}
      </ul>
      <p>{t('order.why')}</p>
    </>
  )
}

function Sure({ sureness: { grade, from, to, position, weighings } }: { sureness: Sureness }) {
  const t = useOwnerWords()
  const where = sayPosition(position, t)
  return (
    <>
      <p className="your-boat-main">{t(`sure.${grade}`)}</p>
      <p>
        {t(to === null ? 'sure.from' : grade === 'past' ? 'sure.was' : 'sure.between', {
          position: where,
          from: sayDay(from),
          to: to === null ? '' : sayDay(to),
        })}
      </p>
      <p>
        {t('sure.rests', { count: weighings })} {t('sure.more')}
      </p>
    </>
  )
}

function sayWhere({ ashore, currentBerth }: BoatView, t: ReturnType<typeof useOwnerWords>): string {
  if (ashore) return t('ashore')
  return currentBerth === null ? '' : t('berth', { berth: currentBerth })
}
