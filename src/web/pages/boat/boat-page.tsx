import { Link, useParams } from 'react-router'
import type { BoatView } from '../../../contract/boats.js'
import type { DepletionView } from '../../../contract/forecasts.js'
import type { HaulOutView } from '../../../contract/haul-outs.js'
import { occupiedPositions } from '../../../presentation/occupied-positions.js'
import { useBerths, useBoat } from '../../api/boats.js'
import { useDepletion } from '../../api/depletion.js'
import { type Finding, useFindingsOfBoat } from '../../api/findings.js'
import { useHaulOuts } from '../../api/haul-outs.js'
import { useMe } from '../../api/session.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Caution } from '../../shell/caution.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { sayDay, sayDistance } from '../../wording/days.js'
import { sayHull } from '../../wording/things.js'
import { warnsOfCurrent } from '../findings/finding-safety.js'
import { AnodeSection } from './anode-section.js'
import { BoatFindings, onsetAt } from './boat-findings.js'
import { t } from './boat-words.js'
import { cautionsOfBoat } from './cautions.js'
import { CostsPanel } from './costs/costs-panel.js'
import { HaulOuts } from './haul-outs.js'
import { NextLiftPanel } from './next-lift/next-lift-panel.js'
import { PhotoComparison } from './photos/photo-comparison.js'
import { PotentialsPanel } from './potentials/potentials-panel.js'
import { ReadingsToLookAt } from './readings-to-look-at.js'
import { reportUrl } from './report-url.js'
import { StaysPanel } from './stays/stays-panel.js'
import { WhatIfPanel } from './what-if/what-if-panel.js'
import './boat.css'

/** One boat: its anodes in place, what is left of them and how long it lasts. */
export default function BoatPage() {
  useAreas('boat', 'fleet', 'findings', 'words')
  const { boat: name = '' } = useParams()
  const boat = useBoat(name)
  const depletion = useDepletion(name)
  const haulOuts = useHaulOuts(name)
  const found = useFindingsOfBoat(name)
  const findings = found.data ?? []
  if (boat.isPending || depletion.isPending) return <Waiting />
  if (boat.isError) return <Trouble error={boat.error} retry={boat.refetch} />
  if (depletion.isError) return <Trouble error={depletion.error} retry={depletion.refetch} />
  const positions = occupiedPositions(depletion.data)
  return (
    <div className="page boat">
      <title>{`${boat.data.name} · Anode Ledger`}</title>
      <Head boat={boat.data} haulOuts={haulOuts.data ?? []} asOf={depletion.data.asOf} />
      {/* Without them a caution may be missing: that must not look like a boat that is in order. */}
      {found.isError && <Trouble error={found.error} retry={found.refetch} />}
      <Cautions boat={boat.data} depletion={depletion.data} findings={findings} />
      <BoatFindings findings={findings} />
      <NextLiftPanel depletion={depletion.data} />
      <CostsPanel boat={boat.data.name} />
      {positions.length === 0 && <NoAnode boat={boat.data.name} />}
      <div className="anodes">
        {positions.map((position) => (
          <AnodeSection
            key={position.current.anode}
            position={position}
            asOf={depletion.data.asOf}
            onset={onsetAt(position, findings, boat.data.name)}
          />
        ))}
      </div>
      <PhotoComparison boat={boat.data.name} depletion={depletion.data} />
      {positions.length > 0 && <WhatIfPanel key={boat.data.id} boat={boat.data.name} asOf={depletion.data.asOf} />}
      <PotentialsPanel boat={boat.data.name} />
      <ReadingsToLookAt boat={boat.data.name} />
      <StaysPanel boat={boat.data.name} asOf={depletion.data.asOf} />
      <HaulOuts boat={boat.data} haulOuts={haulOuts.data ?? []} asOf={depletion.data.asOf} />
    </div>
  )
}

/** Whoever may set up the fleet gets there with the boat chosen. */
function NoAnode({ boat }: { boat: string }) {
  const may = useMe().data?.permissions.includes('fleet:import') ?? false
  return (
    <div className="panel stack-tight">
      <p>{t('noAnode')}</p>
      {may && (
        <p>
          <Link className="button" to={`/set-up/fleet?${new URLSearchParams({ boat })}`}>
            {t('addAnodes')}
          </Link>
        </p>
      )}
    </div>
  )
}

interface HeadProps {
  boat: BoatView
  haulOuts: readonly HaulOutView[]
  asOf: string
}

function Head({ boat, haulOuts, asOf }: HeadProps) {
  const me = useMe()
  const next = haulOuts.filter((haulOut) => haulOut.hauledOn > asOf).at(-1)
  return (
    <header className="boat-head">
      <div className="stack-tight">
        <Link to="/" className="back">
          {t('back')}
        </Link>
        <h1>{boat.name}</h1>
        <dl className="facts">
          <Fact name={t('fact.berth')} value={boat.ashore ? t('ashore') : boat.currentBerth} />
          <Fact name={t('fact.owner')} value={boat.ownerName ?? boat.ownerEmail} />
          <Fact name={t('fact.hull')} value={boat.hull && sayHull(boat.hull)} />
          <Fact
            name={t('fact.next')}
            value={next ? `${sayDay(next.hauledOn)}, ${sayDistance(asOf, next.hauledOn)}` : t('nonePlanned')}
          />
        </dl>
      </div>
      <p className="chips">
        <a className="button" href={reportUrl(boat.name)} target="_blank" rel="noreferrer">
          {t('report')}
        </a>
        <Link className="button" to="galvanic">
          {t('metals')}
        </Link>
        {me.data && me.data.role !== 'owner' && (
          <Link className="button button-main boat-log" to="haul-out">
            {t('log')}
          </Link>
        )}
      </p>
    </header>
  )
}

function Fact({ name, value }: { name: string; value: string | null | undefined }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value ?? t('notKnown')}</dd>
    </div>
  )
}

interface CautionsProps {
  boat: BoatView
  depletion: DepletionView
  findings: readonly Finding[]
}

function Cautions({ boat, depletion, findings }: CautionsProps) {
  const berths = useBerths()
  const inPlace = occupiedPositions(depletion).map(({ current }) => current)
  const cautions = cautionsOfBoat({
    boat,
    water: berths.data?.find((berth) => berth.name === boat.currentBerth)?.water ?? null,
    alloys: inPlace.map((anode) => anode.alloy),
    wear: [
      ...inPlace.flatMap((anode) => anode.forecast?.wear?.judgement ?? []),
      ...findings.filter(({ direction }) => direction === 'slow').map(({ direction }) => direction),
      ...(findings.some(warnsOfCurrent) ? ['fast'] : []),
    ],
    conditions: inPlace.flatMap((anode) => anode.weighings.at(-1)?.conditions ?? []),
  })
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
