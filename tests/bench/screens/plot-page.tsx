import { flushSync } from 'react-dom'
import { createRoot } from 'react-dom/client'
import type { PlotData } from '../../../src/presentation/depletion-drawing.js'
import DepletionPlot from '../../../src/web/pages/boat/depletion-plot.js'

declare global {
  interface Window {
    /** How long each drawing took, from new data to what stands in the page, laid out [ms]. */
    drawPlots(points: number, times: number): Promise<number[]>
  }
}

const DAY_MS = 86_400_000
const START_MS = Date.UTC(2026, 3, 18)
const FITTED_G = 1250

/** An anode with that many weighings, a curve of a point a week, a band of dates: as a boat's page has them. */
function dataOf(points: number): PlotData {
  const at = (day: number) => new Date(START_MS + day * DAY_MS)
  const days = points * 30
  const massG = (day: number) => FITTED_G * Math.exp(-day / (days * 1.5))
  const weeks = Array.from({ length: Math.ceil(days / 7) }, (_, week) => week * 7)
  return {
    curve: weeks.map((day) => ({ at: at(day), p10: massG(day) * 0.9, p50: massG(day), p90: massG(day) * 1.1 })),
    weighings: Array.from({ length: points }, (_, index) => {
      const mass = massG(index * 30)
      return { at: at(index * 30), massG: mass, lowG: mass - 20, highG: mass + 20, method: 'scale', weight: 1 } as never
    }),
    fitted: { at: at(0), massG: FITTED_G },
    before: [],
    thresholdG: 665,
    coreG: 80,
    today: at(days * 0.8),
    onset: null,
    due: { from: at(days * 0.7), middle: at(days * 0.8), to: at(days * 0.95) },
    domain: { from: at(0), to: at(days), highestG: FITTED_G * 1.1 },
  }
}

const place = document.getElementById('app')!
const root = createRoot(place)
const frame = () => new Promise((drawn) => requestAnimationFrame(drawn))

window.drawPlots = async (points, times) => {
  flushSync(() => root.render(<DepletionPlot data={dataOf(points)} label="an anode" />))
  // The drawing waits once for its width.
  for (let waited = 0; waited < 10; waited++) await frame()
  const took: number[] = []
  for (let time = 0; time < times; time++) {
    const data = dataOf(points)
    const began = performance.now()
    flushSync(() => root.render(<DepletionPlot data={data} label="an anode" />))
    place.getBoundingClientRect()
    took.push(performance.now() - began)
    await frame()
  }
  return took
}
