import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { z } from 'zod'
import type { CompiledProcess } from '../../process/compiled-process.js'
import { FOLDER } from '../http/bench-service.js'
import type { Sample } from './growth.js'

const SAMPLE_EVERY_MS = 10_000
const MINUTE_MS = 60_000
const KIB_A_MIB = 1024
const BYTES_A_MIB = 2 ** 20
const REPORTS = join(FOLDER, 'heaps.jsonl')

/** How the service is started so that each of its threads reports its heap: from outside only the whole process is seen. */
export const REPORTING = {
  arguments: ['--require', fileURLToPath(new URL('./report-heap.cjs', import.meta.url))],
  environment: { HEAP_REPORTS: REPORTS, HEAP_REPORT_EVERY_MS: String(SAMPLE_EVERY_MS) },
}

const HeapReport = z.object({
  at: z.number(),
  thread: z.enum(['server', 'engine']),
  heapUsed: z.number(),
  heapTotal: z.number(),
  external: z.number(),
})

/** What the process holds of the machine's memory, from now on until stopped. */
export function watchResident({ process }: CompiledProcess): { readonly samples: readonly Sample[]; stop(): void } {
  const began = performance.now()
  const samples: Sample[] = []
  const timer = setInterval(() => {
    const status = readFileSync(`/proc/${process.pid}/status`, 'utf8')
    const mib = Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]) / KIB_A_MIB
    samples.push({ minutes: (performance.now() - began) / MINUTE_MS, mib })
  }, SAMPLE_EVERY_MS)
  return { samples, stop: () => clearInterval(timer) }
}

/** What the threads have reported of themselves by now, each figure by its name. */
export function reportedHeaps(): Map<string, Sample[]> {
  const reports = readFileSync(REPORTS, 'utf8')
    .trim()
    .split('\n')
    .map((line) => HeapReport.parse(JSON.parse(line)))
  const began = reports[0]!.at
  const figures = new Map<string, Sample[]>()
  for (const { at, thread, ...sizes } of reports) {
    for (const [what, bytes] of Object.entries(sizes)) {
      const name = `${thread} ${what}`
      const samples = figures.get(name) ?? []
      samples.push({ minutes: (at - began) / MINUTE_MS, mib: bytes / BYTES_A_MIB })
      figures.set(name, samples)
    }
  }
  return figures
}
