import { statSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** Tests that start the service as a process of its own: they want it compiled, and they take longest. */
const OF_PROCESSES = ['tests/durability/**/*.test.ts', 'tests/main/**/*.test.ts', 'tests/end-to-end/**/*.test.ts']

/** The long ones first, the others by size: at the end no core waits for one file alone. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const weight = ({ project, moduleId }: TestSpecification) =>
      (project.name === 'processes' ? 1e9 : 0) + statSync(moduleId).size
    return [...files].sort((one, other) => weight(other) - weight(one))
  }
}

const ROOT = new URL('..', import.meta.url).pathname

const project = (name: string, test: TestProjectInlineConfiguration['test']): TestProjectInlineConfiguration => ({
  // Generous: a machine that does other work too must not fail a test.
  test: { name, root: ROOT, testTimeout: 60_000, hookTimeout: 120_000, ...test },
})

export default defineConfig({
  test: {
    root: ROOT,
    // Once for all projects: they see what it provides.
    globalSetup: ['tests/database/global-setup.ts'],
    // One for each core; the default leaves one idle.
    maxWorkers: availableParallelism(),
    sequence: { sequencer: LongestFirst },
    projects: [
      project('services', { include: ['tests/**/*.test.ts'], exclude: OF_PROCESSES }),
      project('processes', { include: OF_PROCESSES, globalSetup: ['tests/process/compile.ts'] }),
    ],
  },
})
