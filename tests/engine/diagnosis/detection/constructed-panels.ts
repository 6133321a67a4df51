import type { JudgedLoss } from '../../../../src/engine/diagnosis/detection/judged-losses.js'
import { type Panel, PanelView } from '../../../../src/engine/diagnosis/detection/panel.js'

const YEAR = 365

/** A loss as expected over a year in the water, weighed to the gram. */
export function lossOf(change: Partial<JudgedLoss> = {}): JudgedLoss {
  return {
    rows: [0],
    boat: 'Wren',
    anode: 'Wren/shaft 1',
    boatIndex: 0,
    from: 0,
    to: YEAR,
    consumption: 300,
    fromVariance: 1,
    toVariance: 1,
    errorVariance: 2,
    exposureDays: YEAR,
    isSpent: false,
    ...change,
  }
}

/** Losses that follow one another, one a year. */
export function yearlyLosses(count: number, change: (year: number) => Partial<JudgedLoss> = () => ({})): JudgedLoss[] {
  return Array.from({ length: count }, (_, year) =>
    lossOf({ rows: [year], from: year * YEAR, to: (year + 1) * YEAR, ...change(year) }),
  )
}

interface PanelDraw {
  readonly scores?: readonly number[]
  readonly expected?: number
  readonly sd?: number
  /** Of any two losses. */
  readonly correlation?: number
}

/** A panel of given scores, all losses expected alike. */
export function panelOf(
  losses: readonly JudgedLoss[],
  { scores, expected = 300, sd = 0.2, correlation = 0 }: PanelDraw = {},
): Panel {
  const n = losses.length
  return {
    losses,
    scores: Float64Array.from(losses, (_, i) => scores?.[i] ?? 0),
    expected: new Float64Array(n).fill(expected),
    sds: new Float64Array(n).fill(sd),
    correlation: Float64Array.from({ length: n * n }, (_, at) => (Math.floor(at / n) === at % n ? 1 : correlation)),
  }
}

/** All of a panel. */
export function viewOf(panel: Panel): PanelView {
  const view = PanelView.of(
    panel,
    panel.losses.map((_, i) => i),
  )
  if (view === null) throw new Error('this panel does not tell itself apart')
  return view
}
