import type { FindingItem } from '../../contract/findings.js'
import type { DepletionView } from '../../contract/forecasts.js'
import type { GalvanicAuditView } from '../../contract/galvanic.js'
import type { HaulOutDetail } from '../../contract/haul-outs.js'
import type { WeighingView } from '../../contract/weighings.js'
import { SIGNS_AND_SAFETY } from '../../engine/reference/signs-and-safety.js'
import type { PaperCaution } from '../../outside/paper/paper-words.js'
import type { LiftedAnode } from '../../outside/paper/report.js'

type DepletionAnode = DepletionView['anodes'][number]
type Drawn = DepletionAnode['weighings'][number]

/** The anodes that were on the boat when it was hauled, or that are on it today where it never was. */
export function liftedAnodes({ anodes, asOf }: DepletionView, haulOut: HaulOutDetail | null): LiftedAnode[] {
  const day = haulOut?.hauledOn ?? asOf
  return anodes
    .filter(({ fittedOn, removedOn }) => (fittedOn ?? '') < day && (removedOn === null || removedOn >= day))
    .map((anode) => liftedAnode(anode, day, haulOut))
    .toSorted((a, b) => Number(a.found === null) - Number(b.found === null) || byName(a.anode, b.anode))
}

/** As people count: "hull 9" before "hull 10". */
const byName = new Intl.Collator('en', { numeric: true }).compare

function liftedAnode(anode: DepletionAnode, day: string, haulOut: HaulOutDetail | null): LiftedAnode {
  const { anode: name, position, alloy, shape, fittedMassG } = anode
  const weighed = haulOut?.weighings.find((each) => each.anode === name)
  const drawn = weighed === undefined ? undefined : anode.weighings.find(({ id }) => id === weighed.id)
  const earlier = anode.weighings.filter(({ on }) => on < day)
  const latest = haulOut === null ? anode.weighings.at(-1) : undefined
  const last = latest === undefined ? earlier.at(-1) : earlier.at(-2)
  return {
    anode: name,
    position,
    alloy,
    shape,
    fittedG: fittedMassG,
    lastG: last?.massG ?? fittedMassG,
    found: weighed === undefined ? (latest ? foundOf(latest, anode) : null) : foundAtLift(weighed, drawn, anode),
    replacedBy: haulOut?.replaced.find((each) => each.anode === name)?.by ?? null,
  }
}

/** As logged; where no scale told the mass, as the depletion judges it. */
function foundAtLift(weighed: WeighingView, drawn: Drawn | undefined, anode: DepletionAnode): LiftedAnode['found'] {
  const { massG, method, consumedFraction, conditions } = weighed
  const judged = drawn === undefined ? null : foundOf(drawn, anode)
  return {
    massG: massG ?? judged?.massG ?? null,
    method,
    consumed: consumedFraction ?? judged?.consumed ?? null,
    conditions,
  }
}

function foundOf({ massG, method, conditions }: Drawn, { fittedMassG, coreMassG }: DepletionAnode) {
  const netG = fittedMassG === null ? null : fittedMassG - (coreMassG ?? 0)
  const consumed = netG === null || fittedMassG === null || !(netG > 0) ? null : (fittedMassG - massG) / netG
  return { massG, method, consumed, conditions }
}

const WEAKENED: readonly string[] = ['pitted', 'pink']

/** Every caution that the boat calls for, each once: of the findings, of what was seen at the lift, of its metals. */
export function cautionsOf(
  findings: readonly FindingItem[],
  anodes: readonly LiftedAnode[],
  audit: GalvanicAuditView,
): PaperCaution[] {
  const seen = anodes.flatMap(({ found }) => found?.conditions ?? [])
  const rules = [
    ...findings.flatMap(({ safety }) => safety),
    ...(seen.some((code) => WEAKENED.includes(code)) ? [ruleOf('thin-fitting')] : []),
    ...findings.flatMap(({ nextCheck }) => nextCheck?.cautions ?? []),
  ]
  const all: PaperCaution[] = [
    ...rules.map(cautionOfRule),
    ...audit.overprotection
      .filter(({ verdict }) => verdict === 'forbidden')
      .map(({ reasons, reason }) => ({ of: 'reason', reasons, text: reason }) as const),
    ...audit.notes.map(({ key, text }) => ({ of: 'metals', key, text }) as const),
  ]
  const different = new Map(all.map((caution) => [caution.text, caution]))
  return [...different.values()]
}

function cautionOfRule(text: string): PaperCaution {
  const key = SIGNS_AND_SAFETY.find((row) => row.text === text)?.key
  return key === undefined ? { of: 'text', text } : { of: 'rule', key, text }
}

function ruleOf(key: string): string {
  return SIGNS_AND_SAFETY.find((row) => row.key === key)!.text
}
