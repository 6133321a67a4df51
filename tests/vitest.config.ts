import { statSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** Tests that start the service as a process of its own: minutes each. */
const OF_PROCESSES = ['tests/durability/**/*.test.ts', 'tests/main/**/*.test.ts', 'tests/end-to-end/**/*.test.ts']

/** The one of them that a run of the quick tests has too: the main job in a browser, from the list at the lift to the summary, offline as well. */
const JOURNEY = 'tests/end-to-end/lift.test.ts'

/** Some long tests bring a database of their own, whichever the run is on: where there are two runs, one of them has each. */
const LEFT_TO_OTHER_RUN = process.env.LEFT_TO_OTHER_RUN?.split(' ') ?? []

const FOR_BROWSERS = ['tests/end-to-end/build-web.ts', 'tests/end-to-end/fleet-template.ts']

/** Each of these takes a minute and more, so they begin first: at the end no core waits for one file alone. */
const LONGEST = [
  /lift\.test/,
  /kills-embedded/,
  /web-app/,
  /end-to-end\/findings/,
  /refits-/,
  /kills-server/,
  /start\.test/,
  /access-matrix/,
]

/** By how long they take as far as that is known, the others by size. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const index = LONGEST.findIndex((name) => name.test(moduleId))
      return index === -1 ? LONGEST.length : index
    }
    const size = ({ moduleId }: TestSpecification) => statSync(moduleId).size
    return [...files].sort((one, other) => rank(one) - rank(other) || size(other) - size(one))
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
      // Not isolated: each worker loads the service's modules once, not once for each of its files (306 s in place of 822).
      project('services', { include: ['tests/**/*.test.ts'], exclude: OF_PROCESSES, isolate: false }),
      project('journey', { include: [JOURNEY], globalSetup: FOR_BROWSERS }),
      project('processes', {
        include: OF_PROCESSES,
        exclude: [JOURNEY, ...LEFT_TO_OTHER_RUN],
        globalSetup: ['tests/process/compile.ts', ...FOR_BROWSERS],
      }),
    ],
  },
})
