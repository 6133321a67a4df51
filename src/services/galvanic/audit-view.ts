import type { CouplePair, GalvanicAuditView } from '../../contract/galvanic.js'
import type { AuditPair, GalvanicAudit } from '../../engine/galvanic/audit.js'
import type { FilmedCouple } from '../../engine/galvanic/couple.js'
import type { Overprotection } from '../../engine/galvanic/overprotection.js'
import type { Reason } from '../../engine/galvanic/reason-codes.js'
import { galvanicCaution } from '../../engine/reference/galvanic-cautions.js'
import type { ProtectionCriterionRow } from '../../engine/reference/protection-criteria.js'
import { source } from '../../engine/reference/sources.js'
import { auditQuestionIn, reasonIn } from '../../outside/words/sentences.js'

/** Programs are told in English; the codes beside it are for everybody else. */
const inEnglish = reasonIn('en')
const askInEnglish = auditQuestionIn('en')

type Drawn = Omit<GalvanicAuditView, 'boat' | 'berth' | 'water' | 'hull'>

/** The engine's audit as it is answered: rows by what of them is shown, cautions with their text. */
export function auditView(audit: GalvanicAudit): Drawn {
  return {
    metals: audit.metals.map(({ metal, fittings, areaCm2, exposedCm2, connection }) => ({
      metal,
      fittings: [...fittings],
      areaCm2,
      exposedCm2,
      connection,
    })),
    pairs: audit.pairs.map(pairView),
    protection: audit.protection.map(({ metals, reasons, ...protection }) => ({
      ...protection,
      ...reasonView(reasons),
      metals: metals.map(({ fittings, criterion, ...metal }) => ({
        ...metal,
        fittings: [...fittings],
        criterion: criterionView(criterion),
      })),
    })),
    overprotection: audit.overprotection.map(overprotectionView),
    potentials: audit.potentials.map(({ at, criterion, reason, ...judged }) => ({
      measuredAt: at,
      ...judged,
      ...reasonView([reason]),
      criterion: criterion && criterionView(criterion),
    })),
    notes: audit.cautions.map(({ key, parts }) => {
      const { text, status } = galvanicCaution(key)
      return { key, fittings: [...parts], text, status }
    }),
    questions: audit.questions.map((question) => ({ ...question, question: askInEnglish(question) })),
    sources: audit.sources.map((key) => ({ ...source(key) })),
  }
}

/** What a pair without its film is answered as: who is the anode then, and how bad it is. */
export function filmLostView({ whenFilmLost }: FilmedCouple): CouplePair['whenFilmLost'] {
  return whenFilmLost.map(
    ({ active, anode, areRolesCertain, deltaVolts, typicalVolts, areaRatio, grade, reasons }) => ({
      active,
      anode: anode.metal,
      areRolesCertain,
      deltaVolts,
      typicalVolts,
      areaRatio,
      grade,
      ...reasonView(reasons),
    }),
  )
}

/** A reason as it is answered: in English, and by code. */
export function reasonView(reasons: readonly Reason[]): Pick<CouplePair, 'reason' | 'reasons'> {
  return { reason: inEnglish(reasons), reasons: [...reasons] }
}

function pairView(pair: AuditPair): GalvanicAuditView['pairs'][number] {
  const { cathode, anode, connection, areRolesCertain, deltaVolts, typicalVolts, areaRatio, exposedRatio } = pair
  return {
    cathode: sideView(cathode, pair.cathodeFittings),
    anode: sideView(anode, pair.anodeFittings),
    connection,
    areRolesCertain,
    deltaVolts,
    typicalVolts,
    areaRatio,
    exposedRatio,
    grade: pair.grade,
    ...reasonView(pair.reasons),
    whenFilmLost: filmLostView(pair),
  }
}

function sideView({ metal, areaCm2, exposedCm2 }: AuditPair['cathode'], fittings: readonly string[]) {
  return { metal, areaCm2, exposedCm2: exposedCm2 === undefined ? areaCm2 : exposedCm2, fittings: [...fittings] }
}

function overprotectionView({
  of,
  criterion,
  reasons,
  ...judged
}: Overprotection): GalvanicAuditView['overprotection'][number] {
  const subject =
    'hull' in of
      ? { hull: of.hull, metal: null, fittings: [] }
      : { hull: null, metal: of.metal, fittings: [...of.fittings] }
  return { ...judged, ...subject, ...reasonView(reasons), criterion: criterionView(criterion) }
}

function criterionView({ metal, condition, status, note }: ProtectionCriterionRow) {
  return { metal, condition, status, note }
}
