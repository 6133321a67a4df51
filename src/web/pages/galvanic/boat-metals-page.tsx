import { useMemo } from 'react'
import { Link, useParams } from 'react-router'
import type { GalvanicAuditView } from '../../../contract/galvanic.js'
import { isMetal } from '../../../contract/metals.js'
import { useGalvanicAudit } from '../../api/galvanic.js'
import { useAreas } from '../../i18n/areas-of-page.js'
import { Caution } from '../../shell/caution.js'
import { Trouble, Waiting } from '../../shell/waiting.js'
import { sayReason } from '../../wording/reasons.js'
import { sayHull } from '../../wording/things.js'
import { NotesPanel, PairsPanel, PotentialsPanel, QuestionsPanel, SourcesFold } from './audit-panels.js'
import { sayArea, sayAudit, t } from './galvanic-words.js'
import { ProtectionPanel } from './protection-panel.js'
import type { MarkedMetal } from './series-data.js'
import { SeriesPanel } from './series-panel.js'
import '../haul-out/haul-out.css'
import './galvanic.css'

/** The metals of one boat: who wastes for whom, what the anodes can do, what is not known. */
export default function BoatMetalsPage() {
  useAreas('galvanic', 'words')
  const { boat = '' } = useParams()
  const audit = useGalvanicAudit(boat)
  if (audit.isPending) return <Waiting />
  if (audit.isError) return <Trouble error={audit.error} retry={audit.refetch} />
  return <Audit audit={audit.data} />
}

function Audit({ audit }: { audit: GalvanicAuditView }) {
  const marked = useMemo(() => markedMetals(audit), [audit])
  const fitted = useMemo(() => audit.protection.filter(({ isFitted }) => isFitted).map(({ alloy }) => alloy), [audit])
  const forbidden = audit.overprotection.filter(({ verdict }) => verdict === 'forbidden')
  return (
    <div className="page">
      <title>{`${t('titleOfBoat', { boat: audit.boat })} · Anode Ledger`}</title>
      <header className="stack-tight">
        <Link className="back" to={`/boats/${encodeURIComponent(audit.boat)}`}>
          ‹ {audit.boat}
        </Link>
        <h1>{t('titleOfBoat', { boat: audit.boat })}</h1>
        <dl className="facts">
          <Fact name={t('fact.water')} value={audit.water && t(`water.${audit.water}`)} />
          <Fact name={t('fact.berth')} value={audit.berth} />
          <Fact name={t('fact.hull')} value={audit.hull && sayHull(audit.hull)} />
        </dl>
        <p className="audit-sentence">{sayAudit(audit)}</p>
      </header>
      {forbidden.map(({ reasons, reason, metal, hull }) => (
        <Caution key={`${metal} ${hull}`} grade="stop">
          <strong>{t('magnesium')}</strong> {sayReason({ reasons, reason })}
        </Caution>
      ))}
      <div className="audit">
        <SeriesPanel marked={marked} anodes={fitted} whose={t('whose.boat')} />
        <div className="stack audit-side">
          <QuestionsPanel questions={audit.questions} />
          <PairsPanel pairs={audit.pairs} />
          <ProtectionPanel audit={audit} />
          <PotentialsPanel potentials={audit.potentials} />
          <NotesPanel notes={audit.notes} />
          <SourcesFold sources={audit.sources} />
        </div>
      </div>
    </div>
  )
}

function Fact({ name, value }: { name: string; value: string | null }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{value ?? t('notKnown')}</dd>
    </div>
  )
}

/** The boat's metals as the chart marks them, one bar a metal, with where the fitted anodes have to bring it. */
function markedMetals({ metals, protection }: GalvanicAuditView): MarkedMetal[] {
  const asked = new Map(protection.flatMap((each) => each.metals.map((metal) => [metal.metal, metal.protectedAtV])))
  const byMetal = new Map<string, typeof metals>()
  for (const metal of metals) byMetal.set(metal.metal, [...(byMetal.get(metal.metal) ?? []), metal])
  return [...byMetal].flatMap(([key, parts]) => {
    if (!isMetal(key)) return []
    const isJoined = parts.some(({ connection }) => connection === 'connected')
    const label = `${briefly(parts.flatMap(({ fittings }) => fittings))}, ${sayArea(totalArea(parts))}`
    return [{ metal: key, label, protectedAtV: isJoined ? (asked.get(key) ?? null) : null }]
  })
}

function totalArea(parts: GalvanicAuditView['metals']): number | null {
  const areas = parts.map(({ areaCm2 }) => areaCm2)
  return areas.includes(null) ? null : areas.reduce((sum: number, area) => sum + (area ?? 0), 0)
}

/** No more names than fit beside a bar. */
function briefly(fittings: readonly string[]): string {
  return fittings.length > 2 ? t('someFittings', { number: fittings.length }) : fittings.join(', ')
}
